namespace SetupAudit.Store;

/// <summary>Where one watched folder stood when the service last said so.</summary>
public sealed record SourceStanding
{
    public required string Machine { get; init; }

    /// <summary>The folder and its glob, as configured.</summary>
    public required string Source { get; init; }

    /// <summary>The start of the last clean scan; null where there was none.</summary>
    public DateTimeOffset? CleanUtc { get; init; }

    /// <summary>What is wrong, for people; null where nothing is.</summary>
    public string? Fault { get; init; }

    /// <summary>For how long the share has not answered the call in hand.</summary>
    public double BlockedSeconds { get; init; }

    public int Files { get; init; }

    /// <summary>Files that wait to settle, or will be tried again.</summary>
    public int Pending { get; init; }

    /// <summary>Reads that did not count since the service began, for the file changed meanwhile.</summary>
    public long TornReads { get; init; }
}
