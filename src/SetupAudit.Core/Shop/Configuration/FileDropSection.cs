namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts.Files: a folder into which each alert is put as a file.</summary>
internal static class FileDropSection
{
    private static readonly TypedShape<string> Forms = Values.Words("json", "text");

    public static ObjectShape Shape { get; } = new("an object with Folder",
    [
        new("Folder", Values.Path) { IsRequired = true },
        new("Form", Forms, "json"),
    ]);

    public static FileDropConfig? Read(ConfigNode? node, Folders folders)
    {
        if (node is null || !Values.Path.TryRead(node["Folder"], out var folder)) return null;
        var isText = Forms.Read(node["Form"], "json") == "text";
        return new FileDropConfig(Folders.AsWritten(folder), folders.Full(folder), isText);
    }
}
