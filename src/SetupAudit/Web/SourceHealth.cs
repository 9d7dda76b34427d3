namespace SetupAudit.Web;

/// <summary>How one watched folder does.</summary>
/// <param name="Source">The folder and its glob, as configured.</param>
/// <param name="Fault">Why it could not be read at its last turn; null where it was.</param>
public sealed record SourceHealth(string Source, string? Fault)
{
    /// <summary>The start of the last clean scan; null before the first.</summary>
    public DateTimeOffset? CleanUtc { get; init; }

    /// <summary>For how long the share has not answered the call in hand; zero where it does.</summary>
    public TimeSpan Blocked { get; init; }

    public int Files { get; init; }

    /// <summary>Files that wait to settle, or will be tried again.</summary>
    public int Pending { get; init; }

    /// <summary>Reads that did not count, for the file changed meanwhile.</summary>
    public long TornReads { get; init; }
}
