namespace SetupAudit.Shop;

/// <summary>The folder of setup sheets, as configured and as a full path.</summary>
public sealed record SheetsConfig(string Folder, string FullFolder)
{
    /// <summary>The Watch index that arrivals of the sheets folder carry.</summary>
    public const int SourceIndex = -1;

    public TimeSpan Poll { get; init; } = TimeSpan.FromSeconds(2);

    public TimeSpan Settle { get; init; } = TimeSpan.FromSeconds(2);

    public TimeSpan Rehash { get; init; } = TimeSpan.FromMinutes(15);
}
