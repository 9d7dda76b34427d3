namespace SetupAudit.Shop;

/// <summary>What a machine's configured sources can tell at all.</summary>
public static class MachineSources
{
    private static readonly string[] TouchGroups = ["(?<register>", "(?<axis>"];

    /// <summary>Whether any source tells when cycles start.</summary>
    public static bool TellCycles(ShopConfig shop, MachineConfig machine) =>
        machine.Watch.Any(watch => watch.Read == SourceKind.Mtconnect) || PrintCycles(shop, machine);

    /// <summary>Whether any print-out tells when cycles start.</summary>
    public static bool PrintCycles(ShopConfig shop, MachineConfig machine) =>
        Patterns(shop, machine).Any(pattern => pattern.Means == "cycle-start");

    /// <summary>Whether any print-out tells which register or axis was touched.</summary>
    public static bool TellTouches(ShopConfig shop, MachineConfig machine) =>
        Patterns(shop, machine).Any(pattern => pattern.Means == "datum-set"
            || (pattern.Means == "measured"
                && TouchGroups.Any(group => pattern.Match.Contains(group, StringComparison.Ordinal))));

    /// <summary>Every pattern of the machine's print-outs.</summary>
    public static IEnumerable<PrintPattern> Patterns(ShopConfig shop, MachineConfig machine) =>
        machine.Watch.Where(watch => watch is { Read: SourceKind.PrintOut, Lines: not null })
            .Select(watch => shop.PrintOuts.GetValueOrDefault(watch.Lines ?? ""))
            .OfType<PrintOutConfig>().SelectMany(prints => prints.Lines);
}
