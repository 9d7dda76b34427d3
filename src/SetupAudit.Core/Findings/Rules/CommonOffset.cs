using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>The common offset is not zero when cutting starts, or changed after it.</summary>
internal sealed class CommonOffset : IRule
{
    public string Name => "common-offset";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase) => AtStart(setupCase).Concat(Afterwards(setupCase));

    private IEnumerable<Finding> AtStart(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } atUtc) yield break;
        foreach (var key in setupCase.Setup.After.Keys(Register.Common))
        {
            if (setupCase.Setup.After[key] is not { Value: { } value and not 0m } state) continue;
            if (IsMeant(setupCase, key, value) || StandsForDryRun(setupCase, key, atUtc)) continue;
            var when = setupCase.Setup.Judged == Judgement.CuttingStarted
                ? $"when cutting started at {setupCase.Told(atUtc)}"
                : $"at {setupCase.Told(atUtc)}";
            var message = $"The common offset stood at {Says(setupCase, key, value)} in {key.Axis} {when}: it moves "
                + "every register by as much, and has stood so since "
                + $"{setupCase.Told(state.SinceUtc)}.";
            yield return setupCase.Raise(this, Severity.High, key, message, atUtc, [state.Source]) with
            {
                Value = value,
                Expected = 0m,
            };
        }
    }

    private IEnumerable<Finding> Afterwards(SetupCase setupCase) =>
        from change in setupCase.Setup.Changes.Concat(setupCase.Setup.Adjustments)
        where change.Key.IsDatum && change.Key.Register.IsCommon && IsAfterStart(setupCase, change)
        group change by change.Key into moves
        orderby moves.Key
        select Changed(setupCase, [.. moves.OrderBy(change => change.ToUtc)]);

    private Finding Changed(SetupCase setupCase, List<Change> moves)
    {
        var first = moves[0];
        var after = first.After is { } value ? $"to {Says(setupCase, first.Key, value)}" : "to no value";
        var more = moves.Count == 1 ? "" : $", and {Words.Count(moves.Count - 1, "more change")} followed";
        var message = $"The common offset was changed in {first.Key.Axis} after cutting had started: {after} by "
            + $"{setupCase.Told(first.ToUtc)}{more}; it moves every register by as much.";
        var evidence = moves.Select(move => move.Source);
        return setupCase.Raise(this, Severity.High, first.Key, message, first.ToUtc, evidence) with
        {
            Value = first.After,
            Expected = first.Before,
        };
    }

    // What may have come before the start and leaves a value behind broke the rule one way or the other.
    private static bool IsAfterStart(SetupCase setupCase, Change change)
    {
        var setup = setupCase.Setup;
        if (setup.CuttingUtc is not { } cuttingUtc || change.ToUtc <= cuttingUtc) return false;
        if (change.IsFirstSight || change.Delta == 0m || change.By == ChangedBy.Program) return false;
        if (SetMarks.IsOfLift(setup, change) || SetMarks.IsOfMassLoss(setup, change)) return false;
        return change.Touched || change.ByUtc > cuttingUtc || change.FromUtc >= cuttingUtc
            || change.After is not null and not 0m;
    }

    private static bool IsMeant(SetupCase setupCase, OffsetKey key, decimal value) =>
        setupCase.Sheets().Any(item => item.Sheet.Datums.Any(datum => datum.Register.IsCommon
            && datum.Fixed.TryGetValue(key.Axis, out var wanted)
            && item.Sheet.FixedValue(key, wanted, setupCase.Machine) == value));

    // A dry run under a raised common offset: the lift is a rule of its own.
    private static bool StandsForDryRun(SetupCase setupCase, OffsetKey key, DateTimeOffset atUtc) =>
        setupCase.Setup.Lifts.Any(lift => lift.Key == key && lift.Start == 0m && lift.RaisedUtc <= atUtc
            && (lift.PutUtc is not { } putUtc || putUtc > atUtc));

    private static string Says(SetupCase setupCase, OffsetKey key, decimal value) =>
        Words.With(value, key.UnitOn(setupCase.Machine.Units));
}
