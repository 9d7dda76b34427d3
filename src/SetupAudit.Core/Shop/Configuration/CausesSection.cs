namespace SetupAudit.Shop.Configuration;

/// <summary>The key Causes: how often a shop meets each ordinary mistake, against the others.</summary>
internal static class CausesSection
{
    public static MapShape Shape { get; } =
        new("an object such as { \"riser-height\": 3 }", Values.NumberAbove0, CauseNames.All);

    public static IReadOnlyDictionary<string, decimal> Read(ConfigNode? node)
    {
        var causes = new Dictionary<string, decimal>(StringComparer.Ordinal);
        foreach (var member in node?.Members ?? [])
            if (CauseNames.All.Contains(member.Name) && Values.NumberAbove0.TryRead(member.Value, out var weight))
                causes[member.Name] = weight;
        return causes;
    }
}
