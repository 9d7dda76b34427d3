using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>Limits in words.</summary>
internal static class LimitWords
{
    /// <summary>"0.5 mm while production runs", "0.1 mm upwards".</summary>
    public static string OfChange(LimitConfig limit, Unit unit) =>
        Words.With(limit.Change ?? 0m, unit) + Way(limit) + When(limit);

    /// <summary>"-600 to -300 mm".</summary>
    public static string OfBounds(LimitConfig limit, Unit unit) =>
        (limit.Between is { } bounds ? Words.Range(bounds, unit) : "anything") + When(limit);

    /// <summary>All that is a finding, to go on from "a finding where the value".</summary>
    public static string Whole(LimitConfig limit, Unit unit)
    {
        var parts = new List<string>();
        if (limit.Change is { } change)
            parts.Add($"moves by more than {Words.With(change, unit)}{Way(limit)}"
                + (limit.Within is { } within ? $" in all within {Words.Span(within)}" : ""));
        if (limit.Between is { } bounds) parts.Add($"stands outside {Words.Range(bounds, unit)}");
        return string.Join(", or ", parts) + When(limit);
    }

    private static string Way(LimitConfig limit) => limit.Direction switch
    {
        LimitDirection.Up => " upwards",
        LimitDirection.Down => " downwards",
        _ => "",
    };

    private static string When(LimitConfig limit) => limit.Applies switch
    {
        LimitApplies.Running => " while production runs",
        LimitApplies.Setup => " while setting up",
        _ => "",
    };
}
