using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Tells which limit holds for an offset, and why those before it do not.</summary>
internal static class LimitLines
{
    public static IEnumerable<string> Of(ShopConfig shop, LimitAsked asked) =>
        asked.Keys.SelectMany(key => Of(shop, asked.Machine, key)).Select(line => VisibleText.Of(line));

    private static IEnumerable<string> Of(ShopConfig shop, MachineConfig machine, OffsetKey key)
    {
        var choices = LimitChoice.Of(shop, machine, key);
        var name = $"{machine.Name}/{key}";
        yield return choices is [.., { WhyNot: null, Limit: var holds }]
            ? $"{name}: {Entry(holds)} holds: a finding where the value {LimitChoice.Says(holds, machine, key)}."
            : $"{name}: no limit holds.";
        foreach (var (limit, whyNot) in choices)
            if (whyNot is not null) yield return $"  {Entry(limit)} does not: it {whyNot}.";
    }

    private static string Entry(LimitConfig limit) =>
        string.Create(CultureInfo.InvariantCulture, $"Limits[{limit.Index}]");
}
