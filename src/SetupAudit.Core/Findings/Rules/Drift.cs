using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>A run of small changes has a trend that chance does not explain: over the adjustments of a setup, or over
/// setups.</summary>
public sealed class Drift : IRule
{
    // A trend needs a run: with fewer, a chart cannot tell it from luck.
    private const int LeastAdjustments = 6;
    private const int LeastSetups = 8;

    public string Name => "drift";

    public Severity Default => Severity.Low;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        foreach (var run in setupCase.Setup.Adjustments.GroupBy(change => change.Key))
            if (OverAdjustments(setupCase, [.. run]) is { } finding) yield return finding;
        if (setupCase.Setup.JudgedUtc is not { } judgedUtc || setupCase.Programs.Count == 0) yield break;
        var use = setupCase.Programs[0];
        foreach (var past in setupCase.Past
            .Where(value => value.WasSet && value.Key.IsDatum && value.Program == use.Program
                && value.Title == use.Text?.Title)
            .GroupBy(value => value.Key))
            if (OverSetups(setupCase, past.Key, [.. past.TakeLast(20)], judgedUtc) is { } finding) yield return finding;
    }

    private Finding? OverAdjustments(SetupCase setupCase, List<Change> run)
    {
        var deltas = run.Where(change => change.Delta is not null)
            .Select(change => (double)change.Delta.GetValueOrDefault()).ToList();
        if (deltas.Count < LeastAdjustments || !Trends(deltas, 0, (double)setupCase.Machine.Resolution)) return null;
        var total = run.Sum(change => change.Delta.GetValueOrDefault());
        return Finding(setupCase, run[0].Key, run[^1].After, run[^1].ToUtc, [run[0].Source, run[^1].Source],
            $"{deltas.Count} adjustments of {Named(run[0].Key)} in this setup add up to", total,
                "and all but a few go the same way");
    }

    private Finding? OverSetups(SetupCase setupCase, OffsetKey key, List<PastValue> past, DateTimeOffset judgedUtc)
    {
        if (past.Count + 1 < LeastSetups || setupCase.Setup.After[key] is not { Value: { } now } state) return null;
        var values = past.Select(value => (double)value.Value).Append((double)now).ToList();
        var centre = values.Take(values.Count / 2).Average();
        if (!Trends(values, centre, (double)setupCase.Machine.Resolution)) return null;
        return Finding(setupCase, key, now, judgedUtc, [state.Source],
            $"{values.Count} setups have moved {Named(key)} by", now - past[0].Value, "step by step in one direction");
    }

    /// <summary>Both charts are out at the last value: a shift of the mean that lasts.</summary>
    private static bool Trends(List<double> values, double centre, double step)
    {
        var sigma = Math.Max(Charts.MeanMovingRange(values) / Charts.RangeDivisor, step);
        var smoothed = Charts.Ewma(values, centre, Charts.EwmaWeight)[^1];
        var sums = Charts.Cusum([.. values.Select(value => (value - centre) / sigma)], 0, Charts.CusumSlack)[^1];
        return Math.Abs(smoothed - centre) > Charts.EwmaHalfWidth(
            values.Count, sigma, Charts.EwmaWeight, Charts.EwmaLimit)
            && Math.Max(sums.High, sums.Low) > Charts.CusumLimit;
    }

    private Finding Finding(
        SetupCase setupCase, OffsetKey key, decimal? value, DateTimeOffset moment, IReadOnlyList<SourceLine> evidence,
        string what, decimal total, string how)
    {
        var unit = Length.ShortName(key.UnitOn(setupCase.Machine.Units));
        return new Finding
        {
            Id = $"{setupCase.Setup.Id}/{Name}/{key}",
            Rule = Name,
            Severity = Default,
            Machine = setupCase.Machine.Name,
            Setup = setupCase.Setup.Id,
            Register = key.IsDatum ? key.Register : null,
            Axis = key.IsDatum ? key.Axis : null,
            Tool = key.IsTool ? key.Tool : null,
            Of = key.IsTool ? key.Part : null,
            Value = value,
            Message = string.Create(
                CultureInfo.InvariantCulture,
                    $"{what} {total} {unit}, {how}: chance does not explain it (EWMA and CUSUM)."),
            AtUtc = moment,
            Evidence = [.. evidence.Distinct()],
        };
    }

    private static string Named(OffsetKey key) =>
        key.IsDatum ? $"{key.Axis} of {key.Register}" : $"{ToolPartName.Of(key.Part)} of T{key.Tool}";
}
