namespace SetupAudit.Commands;

/// <summary>How much is known of a machine.</summary>
internal sealed record MachineCounts
{
    public int Setups { get; init; }

    public int Changes { get; init; }

    public int Findings { get; init; }

    public int Cycles { get; init; }

    public int Arrivals { get; init; }

    /// <summary>Arrivals that could not be read, or only in part.</summary>
    public int Unreadable { get; init; }

    /// <summary>Arrivals that were taken in and are not read yet.</summary>
    public long Backlog { get; init; }
}
