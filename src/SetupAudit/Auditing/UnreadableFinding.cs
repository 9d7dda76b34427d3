using System.Globalization;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>The rule "unreadable": an arrival could not be read, or only in part (contract section 6).</summary>
internal static class UnreadableFinding
{
    public const string Rule = "unreadable";

    private const int HashShown = 8;

    /// <summary>The finding about an arrival whose reading met these faults; null where the rule is off.</summary>
    public static Finding? Of(ShopConfig shop, string machine, Sighting sighting)
    {
        if (sighting.Faults.Count == 0) return null;
        var severity = Severity.High;
        if (shop.Rules.TryGetValue(Rule, out var configured))
        {
            if (configured is not { } wanted) return null;
            severity = wanted;
        }
        var hash = sighting.Sha256[..Math.Min(HashShown, sighting.Sha256.Length)];
        var owner = machine.Length == 0 ? "sheets" : machine;
        return new Finding
        {
            Id = string.Create(CultureInfo.InvariantCulture,
                $"{owner}@{sighting.AtUtc:yyyyMMdd-HHmmss}/{Rule}/{sighting.File}#{hash}"),
            Rule = Rule,
            Severity = severity,
            Machine = machine,
            Message = Message(sighting),
            AtUtc = sighting.AtUtc,
            Evidence = [.. sighting.Faults.Take(1).Select(fault => sighting.At(Math.Max(1, fault.Line)))],
        };
    }

    private static string Message(Sighting sighting)
    {
        var fault = sighting.Faults[0];
        var others = sighting.Faults.Count - 1;
        var more = others == 0 ? "" : string.Create(CultureInfo.InvariantCulture,
            $" {others} more place{(others == 1 ? "" : "s")} in it could not be read.");
        if (fault.Line == 0) return $"{sighting.File} could not be read: {fault.Reason}.{more}";
        var column = fault.Column == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", column {fault.Column}");
        return string.Create(CultureInfo.InvariantCulture,
            $"{sighting.File} could not be read whole: line {fault.Line}{column}: {fault.Reason}.{more}");
    }
}
