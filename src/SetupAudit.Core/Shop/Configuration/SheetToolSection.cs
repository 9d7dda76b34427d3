using SetupAudit.Datums;

namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a sheet's Tools.</summary>
internal static class SheetToolSection
{
    private static readonly TypedShape<int> Number = Values.Whole(1, OffsetKey.ToolMost);

    public static ObjectShape Shape { get; } = new("an object with Tool",
    [
        new("Tool", Number) { IsRequired = true },
        new("Length", Values.Range),
    ]);

    /// <summary>The entry; null where its number cannot be read.</summary>
    public static SheetTool? Read(ConfigNode node) =>
        Number.TryRead(node["Tool"], out var tool) ? new SheetTool(tool, Values.Range.OrNull(node["Length"])) : null;
}
