using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>Everybody, as the newest rows say.</summary>
public sealed class PeopleList
{
    private readonly Dictionary<string, StoredPerson> _byName = new(StringComparer.Ordinal);
    private readonly Dictionary<string, StoredPerson> _byId = new(StringComparer.Ordinal);

    public PeopleList(IEnumerable<StoredPerson> rows)
    {
        foreach (var row in rows) _byName[row.Folded] = _byId[row.Person] = row;
    }

    /// <summary>By name, the locked ones among them.</summary>
    public IReadOnlyList<StoredPerson> All =>
        [.. _byId.Values.OrderBy(person => person.Folded, StringComparer.Ordinal)];

    public StoredPerson? Named(string name) => _byName.GetValueOrDefault(PersonName.Folded(name));

    public StoredPerson? Find(string? person) => person is null ? null : _byId.GetValueOrDefault(person);

    public static async Task<PeopleList> ReadAsync(StoreReader store, CancellationToken token) =>
        new(await store.PeopleAsync(token));
}
