namespace SetupAudit.Shares;

/// <summary>How one scan of one watched folder ended.</summary>
public sealed record ScanReport
{
    public required ShareSource Source { get; init; }

    /// <summary>When the listing began, on this program's clock.</summary>
    public required DateTimeOffset StartedUtc { get; init; }

    /// <summary>The whole folder was listed, and every file that was due could be read or was refused.</summary>
    public required bool Clean { get; init; }

    /// <summary>
    /// Up to here nothing of this source is missing: the start of the scan, or earlier where a file is still waiting to
    /// settle. Null where the scan was not clean.
    /// </summary>
    public DateTimeOffset? HorizonUtc { get; init; }

    /// <summary>
    /// Why the scan was not clean, for people: always temporary, it is tried again. Null where it was clean.
    /// </summary>
    public string? Fault { get; init; }

    /// <summary>How many files were listed that match.</summary>
    public int Files { get; init; }

    /// <summary>How many arrivals were taken in, refused ones included.</summary>
    public int Taken { get; init; }

    /// <summary>How many files wait to settle, or will be tried again.</summary>
    public int Waiting { get; init; }

    /// <summary>How many reads did not count, for the file changed or ended early meanwhile.</summary>
    public int Torn { get; init; }

    /// <summary>When the first of them may be ready; null where none waits.</summary>
    public TimeSpan? ReadyIn { get; init; }
}
