namespace SetupAudit.Shares;

/// <summary>What came of trying one file.</summary>
internal sealed record Taking(Candidate Candidate)
{
    /// <summary>What is known from now on; null where it waits.</summary>
    public KnownFile? Next { get; init; }

    public FoundFile? Found { get; init; }

    /// <summary>Holds the bytes of a large file until they are kept.</summary>
    public Spool? Spool { get; init; }

    /// <summary>A name whose position moved on to this file.</summary>
    public string? Released { get; init; }

    /// <summary>The share itself is gone: nothing more is tried.</summary>
    public string? ShareFault { get; init; }
}
