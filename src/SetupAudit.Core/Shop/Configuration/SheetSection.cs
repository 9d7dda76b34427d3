using SetupAudit.Units;

namespace SetupAudit.Shop.Configuration;

/// <summary>A setup sheet: what one program wants set, loaded and measured.</summary>
internal static class SheetSection
{
    private static readonly ConfigKey[] AxisLengths =
        [new("X", Values.NumberAbove0), new("Y", Values.NumberAbove0), new("Z", Values.NumberAbove0)];

    public static ObjectShape Shape { get; } = new("an object with Program and Units",
    [
        new("Program", Values.TextAs("the program's number or name, such as O2041"), "the file's name"),
        new("Part", Values.Text),
        new("Units", Values.LengthUnit) { IsRequired = true },
        new("Stock", new ObjectShape("an object with X, Y and Z", AxisLengths)),
        new("Datums", new ListShape("a list of datums", SheetDatumSection.Shape)),
        new("Tools", new ListShape("a list of tools", SheetToolSection.Shape)),
        new("Measured", new ListShape("a list of what is measured", SheetMeasureSection.Shape)),
    ], CheckTogether);

    public static string? Program(ConfigNode root) => Values.Text.TextOrNull(root["Program"]);

    /// <summary>Null where it is not known what its numbers mean.</summary>
    public static Unit? Units(ConfigNode root) => Values.LengthUnit.OrNull(root["Units"]);

    public static string? Part(ConfigNode root) => Values.Text.TextOrNull(root["Part"]);

    public static decimal? Stock(ConfigNode root, string axis) =>
        Values.NumberAbove0.OrNull(root["Stock"]?[axis]);

    public static IReadOnlyList<SheetDatum> Datums(ConfigNode root) =>
        [.. Whole(root["Datums"]).Select(SheetDatumSection.Read).OfType<SheetDatum>()
            .DistinctBy(datum => datum.Register)];

    public static IReadOnlyList<SheetTool> Tools(ConfigNode root) =>
        [.. Whole(root["Tools"]).Select(SheetToolSection.Read).OfType<SheetTool>().DistinctBy(tool => tool.Tool)];

    public static IReadOnlyList<SheetMeasure> Measured(ConfigNode root) =>
        [.. Whole(root["Measured"]).Select(SheetMeasureSection.Read).OfType<SheetMeasure>()];

    // An entry within which the file broke off may lack what makes it mean something else.
    private static IEnumerable<ConfigNode> Whole(ConfigNode? list) => (list?.Items ?? []).Where(item => item.IsWhole);

    private static void CheckTogether(ConfigNode root, ConfigCheck check)
    {
        Once(root["Datums"], "Register", node => SheetDatumSection.Read(node)?.Register.ToString(), check);
        Once(root["Tools"], "Tool", node => node["Tool"]?.Text, check);
    }

    private static void Once(ConfigNode? list, string key, Func<ConfigNode, string?> nameOf, ConfigCheck check)
    {
        var first = new Dictionary<string, ConfigNode>(StringComparer.Ordinal);
        foreach (var item in list?.Items ?? [])
            if (item[key] is { } at && nameOf(item) is { } name && !first.TryAdd(name, at))
                check.Add(at, $"{name} is given twice; it stands in line {first[name].Place.Line} already");
    }
}
