using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>Until when people asked for quiet.</summary>
public sealed class QuietTimes(IReadOnlyList<StoredQuiet> rows)
{
    public const string Everywhere = "*";

    /// <summary>Quiet times that were not ended before their time, in the order in which they were asked for.</summary>
    public IReadOnlyList<StoredQuiet> NotEnded { get; } = WithoutEnded(rows);

    /// <summary>
    /// The quiet time that holds for a machine now, the longest of several; null for none. Each holds from when it was
    /// asked for.
    /// </summary>
    public StoredQuiet? Of(string machine, DateTimeOffset nowUtc) => NotEnded
        .Where(quiet => quiet.Machine == Everywhere || quiet.Machine == machine)
        .Where(quiet => nowUtc < quiet.UntilUtc)
        .MaxBy(quiet => quiet.UntilUtc);

    private static List<StoredQuiet> WithoutEnded(IReadOnlyList<StoredQuiet> rows)
    {
        var ended = rows.Select(row => row.Cancels).OfType<string>().ToHashSet(StringComparer.Ordinal);
        return [.. rows.Where(row => row.Cancels is null && !ended.Contains(row.Id))];
    }
}
