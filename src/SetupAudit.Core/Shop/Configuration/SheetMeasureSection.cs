namespace SetupAudit.Shop.Configuration;

/// <summary>One entry of a sheet's Measured: a size or angle of one feature, or the distance between two.</summary>
internal static class SheetMeasureSection
{
    private static readonly TypedShape<IReadOnlyList<string>> Two = new("two features", ReadTwo);

    public static ObjectShape Shape { get; } = new("an object with Feature, or with Between and Distance",
    [
        new("Feature", Values.TextAs("a feature's name")),
        new("Between", Two),
        new("Size", Values.Range),
        new("Angle", Values.Range),
        new("Distance", Values.Range),
    ], CheckTogether);

    /// <summary>The entry; null where it does not say what is measured.</summary>
    public static SheetMeasure? Read(ConfigNode node)
    {
        if (Two.TryRead(node["Between"], out var two))
            return new SheetMeasure { Between = two, Distance = Values.Range.OrNull(node["Distance"]) };
        if (!Values.Text.TryRead(node["Feature"], out var feature)) return null;
        return new SheetMeasure
        {
            Feature = feature,
            Size = Values.Range.OrNull(node["Size"]),
            Angle = Values.Range.OrNull(node["Angle"]),
        };
    }

    private static bool ReadTwo(ConfigNode node, out IReadOnlyList<string> value)
    {
        value = Values.Text.Each(node);
        return node.Kind == ConfigKind.List && node.Items.Count == 2 && value.Count == 2 && value[0] != value[1];
    }

    private static void CheckTogether(ConfigNode node, ConfigCheck check)
    {
        var (feature, between) = (node.MemberOf("Feature"), node.MemberOf("Between"));
        if (feature is null && between is null) check.Missing(node, "Feature", "Feature, or Between two features");
        if (feature is not null && between is not null)
            check.Add(between.Value.Path, between.Place, "stands beside Feature; a distance has no feature of its own");
        if (between is not null && node["Distance"] is null) check.Missing(node, "Distance", Values.Range.Allowed);
        if (between is null && node.MemberOf("Distance") is { } distance)
            check.Add(distance.Value.Path, distance.Place, "needs Between, the two features it lies between");
        foreach (var key in (string[])["Size", "Angle"])
            if (between is not null && node.MemberOf(key) is { } member)
                check.Add(member.Value.Path, member.Place, "is of one feature; between two there is a Distance");
    }
}
