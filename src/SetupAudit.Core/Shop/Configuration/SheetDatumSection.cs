namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a sheet's Datums.</summary>
internal static class SheetDatumSection
{
    private static readonly string[] Depths = ["front", "back", "centre"];
    private static readonly string[] Sides = ["left", "right", "centre"];
    private static readonly string[] Heights = ["top", "bottom"];

    private static readonly HashSet<string> Places =
        [.. from depth in Depths from side in Sides from height in Heights select $"{depth}-{side}-{height}"];

    private static readonly TypedShape<string> At = new(
        "front, back or centre, then left, right or centre, then top or bottom, such as back-left-top",
        (ConfigNode node, out string value) =>
        {
            value = node.Text;
            return node.Kind == ConfigKind.Text && Places.Contains(value);
        });

    public static ObjectShape Shape { get; } = new("an object with Register",
    [
        new("Register", Values.Register) { IsRequired = true },
        new("Axes", Values.Axes),
        new("At", At),
        new("Expect", new MapShape("an object from axes to ranges", Values.Range, Values.AxisNames)),
        new("Fixed", new MapShape("an object from axes to values", Values.Number, Values.AxisNames)),
    ]);

    /// <summary>The entry; null where its register cannot be read.</summary>
    public static SheetDatum? Read(ConfigNode node) =>
        !Values.Register.TryRead(node["Register"], out var register) ? null : new SheetDatum
        {
            Register = register,
            Axes = Values.Axes.Read(node["Axes"], []),
            At = At.TextOrNull(node["At"]),
            Expect = Values.ByAxis(Values.Range, node["Expect"]),
            Fixed = Values.ByAxis(Values.Number, node["Fixed"]),
        };
}
