using SetupAudit.Changes;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>A register went back, to the last digit, to an older state of itself.</summary>
internal sealed class ValuesRestored : IRule
{
    public string Name => "values-restored";

    public Severity Default => Severity.Low;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        from change in setupCase.Setup.Changes
        where change is { SameAsUtc: not null, Touched: false } && change.Key.IsDatum && change.Delta is not 0m
            && !SetMarks.IsOfLift(setupCase.Setup, change) && !SetMarks.IsOfMassLoss(setupCase.Setup, change)
        group change by (change.Key.Register, change.ToUtc) into moves
        // A register that was cleared is not restored, though it may have been empty before.
        where moves.Any(change => change.After is not null and not 0m)
        orderby moves.Key.Register, moves.Key.ToUtc
        select Found(setupCase, [.. moves.OrderBy(change => change.Key)]);

    private Finding Found(SetupCase setupCase, List<Change> moves)
    {
        var first = moves[0];
        var values = moves.Select(change =>
            $"{Words.Axis(change.Key.Axis)} {Words.With(change.After ?? 0m, change.Unit)}");
        var message = $"{first.Key.Register} went back, to the last digit, to what it last showed at "
            + $"{setupCase.Told(first.SameAsUtc ?? first.ToUtc)}: {Words.List(values)} by "
            + $"{setupCase.Told(first.ToUtc)}.";
        return setupCase.Raise(this, Severity.Low, first.Key.Register, message, first.ToUtc,
            moves.SelectMany(change => new[] { change.Source, change.BySource }));
    }
}
