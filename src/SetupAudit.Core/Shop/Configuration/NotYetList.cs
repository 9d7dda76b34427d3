namespace SetupAudit.Shop.Configuration;

/// <summary>Finds what a configuration asks for that this version does not do yet; it is told, never ignored.</summary>
internal static class NotYetList
{
    public static IReadOnlyList<ConfigNotYet> Of(ConfigNode root)
    {
        var list = new List<ConfigNotYet>();
        if (root["Store"]?["Postgres"] is { } postgres) list.Add(Entry(postgres, "PostgreSQL", stops: true));
        return list;
    }

    private static ConfigNotYet Entry(ConfigNode node, string what, bool stops) => new(
        new ConfigFault(node.Path, node.Place.Line, node.Place.Column, $"{what} is not available yet"), stops);
}
