using SetupAudit.Changes;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A datum or tool offset that the program in hand calls moved within a cycle, and no program in hand writes it; or by
/// more than AdjustmentLimit in an interval that may lie within one. Wear within its limit is a note; a tool measured
/// again after an alarm or stop is low.
/// </summary>
internal sealed class ChangedWhileCutting : IRule
{
    public string Name => "changed-while-cutting";

    public Severity Default => Severity.Stop;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.Setup.Cycles.Count == 0 && setupCase.Previous is null) return [];
        var spans = new CycleSpans(setupCase);
        var judge = new CuttingMoves(setupCase, spans);
        var moves = setupCase.Setup.Changes.Concat(setupCase.Setup.Adjustments).OrderBy(change => change.ToUtc)
            .Select(judge.Weigh).OfType<CuttingMove>().ToList();
        var trims = moves.Where(move => move.Severity == Severity.Note).GroupBy(move => move.Change.Key)
            .OrderBy(group => group.Key).Select(group => Trimmed(setupCase, [.. group]));
        return moves.Where(move => move.Severity != Severity.Note).Select(move => Found(setupCase, move)).Concat(trims);
    }

    private Finding Found(SetupCase setupCase, CuttingMove move)
    {
        var (change, span) = (move.Change, move.Span);
        var program = span.Program.Length == 0 ? "a cycle" : span.Program;
        var ran = $"{program} {(move.IsCertain ? "ran" : "may have been running")} "
            + $"({setupCase.Told(span.StartUtc, change.ToUtc)} to {setupCase.Told(span.EndUtc, change.ToUtc)})";
        var again = move.Severity == Severity.Low && move.Interrupted is not null;
        var message = again
            ? $"{Moved(change)} {When(setupCase, change)}, measured again after {move.Interrupted}."
            : $"{Moved(change)} {When(setupCase, change)}, while {ran}{Why(move)}.";
        if (!again && span.Use is { } use) message += setupCase.Doubts(use);
        return setupCase.Raise(this, move.Severity, change.Key, message, move.AtUtc,
            [change.Source, change.BySource, span.Cycle.Source, move.InterruptedSource]) with
        {
            Value = change.After,
            Expected = change.Before,
        };
    }

    private Finding Trimmed(SetupCase setupCase, List<CuttingMove> moves)
    {
        var (first, unit) = (moves[0].Change, moves[0].Change.Unit);
        var sum = moves.Sum(move => move.Change.Delta.GetValueOrDefault());
        var most = moves.Max(move => Math.Abs(move.Change.Delta.GetValueOrDefault()));
        var name = Words.Begin(Words.Name(first.Key));
        var message = $"{name} was trimmed {Words.Count(moves.Count, "time")} while cycles ran, first by "
            + $"{setupCase.Told(first.ToUtc)}: by {Words.With(sum, unit)} in all and at most "
            + $"{Words.With(most, unit)} at once, within its limit.";
        return setupCase.Raise(this, Severity.Note, first.Key, message, moves[0].AtUtc,
            moves.Select(move => move.Change.Source)) with
        {
            Value = moves[^1].Change.After,
            Expected = first.Before,
        };
    }

    private static string Moved(Change change)
    {
        var name = Words.Begin(Words.Name(change.Key));
        if (change.Delta is not { } delta) return $"{name} lost its value";
        return $"{name} moved by {Words.With(delta, change.Unit)} (from {Words.Number(change.Before ?? 0m)} to "
            + $"{Words.With(change.After ?? 0m, change.Unit)})";
    }

    private static string When(SetupCase setupCase, Change change)
    {
        var toldUtc = change.Touched ? change.ToUtc : change.ByUtc;
        return toldUtc is null && change.FromUtc is { } fromUtc
            ? $"between {setupCase.Told(fromUtc)} and {setupCase.Told(change.ToUtc, fromUtc)}"
            : $"at {setupCase.Told(toldUtc ?? change.ToUtc)}";
    }

    private static string Why(CuttingMove move)
    {
        var it = move.Change.Key.IsTool ? "calls it" : $"cuts in {move.Change.Key.Register}";
        if (!move.IsKnown) return $"; its text is not known in full, so whether it {it} or sets it itself is not known";
        return move.IsCertain
            ? $"; it {it}, and no program in hand writes it"
            : $"; it {it}, and the move is beyond what an adjustment may be";
    }
}
