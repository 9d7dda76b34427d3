namespace SetupAudit.Shares;

/// <summary>Named limits of a scan.</summary>
public sealed record ScanLimits
{
    public static readonly ScanLimits Default = new();

    /// <summary>A larger file is refused, with this reason.</summary>
    public long MaxFileBytes { get; init; } = 8L << 30;

    /// <summary>A larger file is not held in memory but handed out as a stream.</summary>
    public int HeldBytes { get; init; } = 8 << 20;

    /// <summary>A batch is handed over when it holds this many files ...</summary>
    public int BatchFiles { get; init; } = 256;

    /// <summary>... or this many bytes.</summary>
    public int BatchBytes { get; init; } = 16 << 20;

    /// <summary>
    /// Where a file that is not held in memory lies until it is kept; null to read it on the share a second time then.
    /// </summary>
    public string? SpoolFolder { get; init; } = UsualSpoolFolder();

    /// <summary>
    /// An unfinished last line of a print-out counts after this long unchanged (contract, promise 2).
    /// </summary>
    public TimeSpan UnfinishedLine { get; init; } = TimeSpan.FromSeconds(60);

    // The usual folder for temporary files is often held in memory; this one is on a disk (Filesystem Hierarchy 5.15).
    private static string UsualSpoolFolder() =>
        Environment.GetEnvironmentVariable("TMPDIR") is null && Directory.Exists("/var/tmp")
            ? "/var/tmp"
            : Path.GetTempPath();
}
