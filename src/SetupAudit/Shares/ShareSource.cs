using SetupAudit.Shop;

namespace SetupAudit.Shares;

/// <summary>One watched folder and the machine it belongs to; the sheets folder belongs to no machine ("").</summary>
public sealed record ShareSource(string Machine, WatchConfig Watch)
{
    /// <summary>The folder and its glob, as configured.</summary>
    public string Name => $"{Watch.Folder}/{Watch.Files}";

    /// <summary>Every folder that the configuration watches: each machine's in its order, then the sheets.</summary>
    public static IReadOnlyList<ShareSource> All(ShopConfig shop)
    {
        ArgumentNullException.ThrowIfNull(shop);
        var sources = shop.Machines
            .SelectMany(machine => machine.Watch.Select(watch => new ShareSource(machine.Name, watch)))
            .ToList();
        if (shop.Sheets is { } sheets) sources.Add(new ShareSource("", SheetsWatch(sheets)));
        return sources;
    }

    private static WatchConfig SheetsWatch(SheetsConfig sheets) => new()
    {
        Index = SheetsConfig.SourceIndex,
        Folder = sheets.Folder,
        FullFolder = sheets.FullFolder,
        Files = "*.json",
        Read = SourceKind.Sheet,
    };

    /// <summary>For a log line: the machine and the folder as configured.</summary>
    public override string ToString() => Machine.Length == 0 ? Watch.Folder : $"{Machine}:{Watch.Folder}";
}
