namespace SetupAudit.Shop.Configuration;

/// <summary>The key Sheets: where setup sheets lie.</summary>
internal static class SheetsSection
{
    public static ObjectShape Shape { get; } = new("an object with Folder",
    [
        new("Folder", Values.Path) { IsRequired = true },
    ]);

    public static SheetsConfig? Read(ConfigNode? node, Folders folders, WatchTiming timing) =>
        Values.Path.TryRead(node?["Folder"], out var folder)
            ? new SheetsConfig(Folders.AsWritten(folder), folders.Full(folder))
            {
                Poll = timing.Poll,
                Settle = timing.Settle,
                Rehash = timing.Rehash,
            }
            : null;
}
