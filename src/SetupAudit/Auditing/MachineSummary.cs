namespace SetupAudit.Auditing;

/// <summary>What came of auditing one machine once.</summary>
public sealed record MachineSummary
{
    /// <summary>Empty for the sheets.</summary>
    public required string Machine { get; init; }

    /// <summary>Arrivals that were read.</summary>
    public int Read { get; init; }

    /// <summary>Of these, arrivals that could be read only in part, or not at all.</summary>
    public int NotWhole { get; init; }

    public int SetupsRaised { get; init; }

    public int FindingsRaised { get; init; }

    public int FindingsWithdrawn { get; init; }

    /// <summary>Watched folders that could not be scanned cleanly, and why, a sentence each.</summary>
    public IReadOnlyList<string> SourceFaults { get; init; } = [];
}
