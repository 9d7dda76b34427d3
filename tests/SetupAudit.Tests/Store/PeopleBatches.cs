using SetupAudit.Setups;

namespace SetupAudit.Store;

/// <summary>Made-up rows about people.</summary>
internal static class PeopleBatches
{
    public static PeopleBatch One(string id = "one") => new()
    {
        People = [Person(id, "Ann Reed")],
        SignIns = [new StoredSignIn(id, TempStore.Monday, $"person-{id}", "right", "review", "shop")],
        Reviews = [Review(id)],
    };

    public static StoredPerson Person(string id, string name) => new()
    {
        Id = id,
        AtUtc = TempStore.Monday,
        Person = $"person-{id}",
        Name = name,
        Folded = name.ToLowerInvariant(),
        Role = "quality",
        Salt = new byte[16],
        Passes = 2,
        MemoryKib = 65536,
        CheckKey = new byte[32],
        Why = "added",
        Account = "shop",
    };

    public static Review Review(string id) => new()
    {
        Id = id,
        Machine = "mill-3",
        Setup = "mill-3@20260302-071000",
        OpenedUtc = TempStore.Monday,
        AtUtc = TempStore.Monday,
        AtLocal = "2026-03-02T07:00:00+00:00",
        Verdict = ReviewVerdict.Accepted,
        Reason = "measured",
        By = "Ann Reed",
        Basis = new ReviewBasis("mark", ["axis-not-set/G54.Z"]),
        RowsSha256 = "rows",
    };
}
