using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>Whether a review still covers all that is known of its setup.</summary>
public static class ReviewStanding
{
    /// <summary>
    /// What a review of a setup rests on. Cycles, sizes measured in them and wear go on under a review; a datum or a
    /// tool that moves, a touch or a missed surface does not, nor does anything that makes a finding of weight.
    /// </summary>
    public static ReviewBasis Basis(Setup setup, IReadOnlyList<Finding> findings) =>
        new(Mark(setup), [.. findings.Where(finding => finding.Severity >= Severity.High)
            .Select(finding => Bare(finding.Id, setup.Id)).Order(StringComparer.Ordinal)]);

    /// <summary>Why a review no longer covers its setup, as half a sentence; null where it does.</summary>
    public static string? Doubt(Review review, ReviewBasis now)
    {
        var fresh = now.Grave.Except(review.Basis.Grave, StringComparer.Ordinal).ToList();
        if (fresh.Count > 0)
            return $"a finding stands against the setup that did not when it was reviewed: {string.Join(", ", fresh)}";
        return now.Mark == review.Basis.Mark ? null : "evidence of this setup came after the review";
    }

    private static string Bare(string finding, string setup) =>
        finding.StartsWith(setup + "/", StringComparison.Ordinal) ? finding[(setup.Length + 1)..] : finding;

    private static string Mark(Setup setup)
    {
        var text = new StringBuilder();
        foreach (var change in setup.Changes.Where(change => !change.IsFirstSight))
            Line(text, "change", change.Key, change.Before, change.After, Moment(change.ToUtc));
        foreach (var change in setup.Adjustments.Where(change => !change.Key.IsWear))
            Line(text, "adjustment", change.Key, change.Before, change.After, Moment(change.ToUtc));
        foreach (var touch in setup.Touches.Where(touch => touch.Cycle is null))
            Line(text, "touch", touch.Key, touch.Value, Moment(touch.AtUtc), touch.Missed);
        foreach (var one in setup.Measurements.Where(one => one.Cycle is null))
            Line(text, "measured", one.Feature, one.Size, one.Angle, Moment(one.AtUtc));
        foreach (var alarm in setup.Alarms.Where(alarm => alarm.Kind == "surface-not-found"))
            Line(text, "alarm", alarm.Register, alarm.Axis, Moment(alarm.AtUtc));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    private static string Moment(DateTimeOffset moment) =>
        moment.UtcTicks.ToString(CultureInfo.InvariantCulture);

    private static void Line(StringBuilder text, params object?[] parts)
    {
        foreach (var part in parts) text.Append(CultureInfo.InvariantCulture, $"{part}|");
        text.Append('\n');
    }
}
