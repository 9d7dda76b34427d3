using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>Finds what a person means by the beginning of an id.</summary>
internal static class IdBeginning
{
    private const int Shown = 10;

    public static async Task<StoredDerived> FindAsync(
        StoreReader store, DerivedKind kind, string beginning, CancellationToken token)
    {
        var found = await store.BeginningAsync(kind, beginning, Shown + 1, token);
        var exact = found.FirstOrDefault(row => row.Id == beginning);
        if (exact is not null) return exact;
        var name = kind.ToString().ToLowerInvariant();
        if (found.Count == 0)
            throw new CommandException(
                $"No {name} has an id that begins with '{beginning}'; 'setupaudit list {name}s' shows them.");
        if (found.Count == 1) return found[0];
        var lines = found.Take(Shown).Select(row => "  " + row.Id);
        var more = found.Count > Shown ? "\n  and more" : "";
        throw new CommandException(
            $"More than one {name} has an id that begins with '{beginning}':\n{string.Join('\n', lines)}{more}");
    }
}
