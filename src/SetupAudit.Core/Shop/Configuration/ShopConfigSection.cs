namespace SetupAudit.Shop.Configuration;

/// <summary>The whole configuration: its outermost keys.</summary>
internal static class ShopConfigSection
{
    public static ObjectShape Shape { get; } = new("an object with Shop, Store and Machines",
    [
        new("Shop", ShopSection.Shape) { IsRequired = true },
        new("Store", StoreSection.Shape) { IsRequired = true },
        new("Machines", new MachinesShape()) { IsRequired = true },
        new("PrintOuts", new MapShape("an object from names to print-outs", PrintOutSection.Shape)),
        new("Setups", SetupsSection.Shape),
        new("Sheets", SheetsSection.Shape),
        new("Rules", RulesSection.Shape),
        new("Causes", CausesSection.Shape),
        new("Limits", new ListShape("a list of limits", LimitSection.Shape)),
        new("Alerts", AlertsSection.Shape),
        new("Web", WebSection.Shape),
        new("Metrics", MetricsSection.Shape),
    ]);

    public static ShopConfig Read(ConfigNode root, IReadOnlyList<ConfigMember> machines, Folders folders)
    {
        var shop = root["Shop"];
        var timing = ShopSection.Timing(shop);
        return new ShopConfig
        {
            Name = ShopSection.Name(shop),
            TimeZone = ShopSection.TimeZone(shop),
            FreshMinutes = ShopSection.FreshMinutes(shop),
            Store = StoreSection.Read(root["Store"], folders),
            Machines = [.. machines.Select(each => MachineSection.Read(each.Name, each.Value, folders, timing))],
            PrintOuts = ReadPrintOuts(root["PrintOuts"]),
            Setups = SetupsSection.Read(root["Setups"]),
            Sheets = SheetsSection.Read(root["Sheets"], folders, timing),
            Rules = RulesSection.Read(root["Rules"]),
            Causes = CausesSection.Read(root["Causes"]),
            Limits = [.. (root["Limits"]?.Items ?? []).Select(LimitSection.Read)],
            Alerts = AlertsSection.Read(root["Alerts"], folders, WebSection.Url(root["Web"])),
            WebUrl = WebSection.Url(root["Web"]),
            OtlpUrl = MetricsSection.Otlp(root["Metrics"]),
        };
    }

    private static Dictionary<string, PrintOutConfig> ReadPrintOuts(ConfigNode? node)
    {
        var printOuts = new Dictionary<string, PrintOutConfig>(StringComparer.Ordinal);
        foreach (var member in node?.Members ?? [])
            printOuts[member.Name] = PrintOutSection.Read(member.Name, member.Value);
        return printOuts;
    }
}
