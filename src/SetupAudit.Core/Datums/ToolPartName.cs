namespace SetupAudit.Datums;

/// <summary>The names of the parts of a tool as configuration and JSON write them.</summary>
public static class ToolPartName
{
    private static readonly (ToolPart Part, string Name)[] Names =
    [
        (ToolPart.Length, "length"), (ToolPart.LengthWear, "length-wear"), (ToolPart.Diameter, "diameter"),
        (ToolPart.DiameterWear, "diameter-wear"), (ToolPart.X, "x"), (ToolPart.XWear, "x-wear"), (ToolPart.Z, "z"),
        (ToolPart.ZWear, "z-wear"), (ToolPart.NoseRadius, "nose-radius"), (ToolPart.NoseRadiusWear, "nose-radius-wear"),
        (ToolPart.Tip, "tip"),
    ];

    public static IEnumerable<string> All => Names.Select(pair => pair.Name);

    public static string Of(ToolPart part) => Names[(int)part].Name;

    public static bool TryParse(string? name, out ToolPart part)
    {
        var index = Array.FindIndex(Names, pair => pair.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
        part = index < 0 ? default : Names[index].Part;
        return index >= 0;
    }
}
