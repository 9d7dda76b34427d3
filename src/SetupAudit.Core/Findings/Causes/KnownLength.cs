using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>The causes that shift an offset by a length the shop knows: risers, gauges, edge finders, the stylus, the
/// stock.</summary>
internal sealed class KnownLength(
    string name, double together, Func<CauseQuestion, OffsetKey, IEnumerable<KnownLength.Shift>> shifts)
    : ICauseModel
{
    // In mm: sawn stock is seldom truer.
    private const double StockSpread = 0.05;

    // A lift that was seen to stand says far more than one that could have been; an unseen one is less likely than a
    // riser.
    private const double LiftSeen = 6;
    private const double LiftUnseen = 0.4;

    public string Name => name;

    public double Together => together;

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        return double.IsNaN(expected)
            ? []
            : shifts(question, key)
                .Select(shift => new Guess(expected + shift.By, 1, shift.Extra, shift.Weight, shift.Says));
    }

    /// <summary>A riser under the part that was not there before, or is there no more; two stacked are rarer but
    /// happen.</summary>
    public static KnownLength Riser { get; } = new("riser-height", 0.02, (question, key) =>
    {
        if (!IsZ(key)) return [];
        var single = Shared(question.Machine.Risers, 0.8, riser => (double)riser);
        var stacked = Shared(
            [.. question.Machine.Risers
                .SelectMany((first, index) => question.Machine.Risers.Skip(index).Select(second => first + second))],
            0.2, height => (double)height);
        return Both(single.Concat(stacked)
            .Select(item => new Shift(item.Length, 0, item.Weight, $"a {Said(question, item.Length)} riser")));
    });

    /// <summary>A surface touched against a gauge whose height was not taken off, or taken off twice.</summary>
    public static KnownLength Gauge { get; } = new("gauge-height", 0.02, (question, key) => IsZ(key) || IsLength(key)
        ? Both(Shared(question.Machine.Gauges, 1, gauge => (double)gauge)
            .Select(item => new Shift(item.Length, 0, item.Weight, $"a {Said(question, item.Length)} gauge")))
        : []);

    /// <summary>An edge touched with an edge finder and its radius not taken off.</summary>
    public static KnownLength EdgeFinder { get; } = new("edge-finder-radius", 0.6, (question, key) => IsXy(key)
        ? Both(Shared(question.Machine.EdgeFinders, 1, finder => (double)finder)
            .Select(item => new Shift(
                item.Length / 2, 0, item.Weight, $"half of a {Said(question, item.Length)} edge finder")))
        : []);

    /// <summary>The centre of the stylus ball taken for its surface.</summary>
    public static KnownLength Stylus { get; } = new("stylus-radius", 0.6, (question, key) =>
        question.Machine.StylusDiameter is { } diameter && (IsXy(key) || IsZ(key))
            ? Both([new Shift((double)diameter / 2, 0, 1, $"half of the {Said(question, (double)diameter)} stylus")])
            : []);

    /// <summary>Another corner, or the other face, of the stock.</summary>
    public static KnownLength OtherCorner { get; } = new("other-corner", 0.5, (question, key) =>
        key.IsDatum && question.Stock(key.Axis) is { } stock
            ? Both([new Shift(stock, question.FromMm(StockSpread), 1,
                $"the stock's {Said(question, stock)} along {key.Axis}")])
            : []);

    /// <summary>The centre of the stock where its edge was wanted, or the edge for the centre.</summary>
    public static KnownLength CentreForEdge { get; } = new("centre-for-edge", 0.6, (question, key) =>
        IsXy(key) && question.Stock(key.Axis) is { } stock
            ? Both([new Shift(stock / 2, question.FromMm(StockSpread), 1,
                $"half of the stock's {Said(question, stock)} along {key.Axis}")])
            : []);

    /// <summary>A Z raised for a dry run and not put back.</summary>
    public static KnownLength LiftLeftIn { get; } =
        new("lift-left-in", 0.02, (question, key) => IsZ(key) ? Lifts(question, key) : []);

    /// <summary>The end of a search that met no surface, left standing as if it were one.</summary>
    public static KnownLength SearchEnd { get; } = new("search-end", 0.1, (question, key) =>
    {
        if (question.Machine.Search is not { } search || !key.IsDatum) return [];
        var standoff = question.Machine.Standoff ?? 0m;
        var beyond = (double)(search - standoff);
        var says = $"the end of a {Said(question, (double)search)} search, "
            + $"started {Said(question, (double)standoff)} off the surface,";
        // A hand-set start is exact to a millimetre or so; a programmed one to the digit.
        Shift[] ends = [new(-beyond, 0, 0.5, says), new(-beyond, question.FromMm(1), 0.5, says)];
        return IsZ(key) ? ends : IsXy(key) ? Both(ends) : [];
    });

    private static IEnumerable<Shift> Lifts(CauseQuestion question, OffsetKey key)
    {
        var standing = question.Setup.Lifts
            .Where(lift => lift.PutTo is null && (lift.Key == key || lift.Key.Register.IsCommon)).ToList();
        if (standing.Count > 0)
            return standing.Select(lift => (double)(lift.Raised - lift.Start))
                .Select(by => new Shift(by, 0, LiftSeen, $"a lift of {Said(question, by)} left in"));
        double[] steps = question.IsInch ? [0.5, 1, 2, 3, 4, 5] : [10, 20, 25, 30, 50, 75, 100];
        return steps.Select(step =>
            new Shift(step, 0, LiftUnseen / steps.Length, $"a lift of {Said(question, step)} left in"));
    }

    private static IEnumerable<(double Length, double Weight)> Shared(
        IReadOnlyList<decimal> lengths, double share, Func<decimal, double> length) =>
        lengths.Select(item => (length(item), share / lengths.Count));

    private static IEnumerable<Shift> Both(IEnumerable<Shift> shifts) => shifts.SelectMany(shift => new[]
    {
        shift with { Weight = shift.Weight / 2 },
        shift with { By = -shift.By, Weight = shift.Weight / 2 },
    });

    private static string Said(CauseQuestion question, double length) =>
        $"{CauseQuestion.Number(length)} {question.UnitName}";

    private static bool IsZ(OffsetKey key) => key.IsDatum && key.Axis == Axis.Z;

    private static bool IsXy(OffsetKey key) => key.IsDatum && key.Axis is Axis.X or Axis.Y;

    private static bool IsLength(OffsetKey key) => key.IsTool && key.Part is ToolPart.Length or ToolPart.Z;

    /// <param name="By">What is added to the usual value.</param>
    /// <param name="Extra">Variation of its own, as a standard deviation.</param>
    internal sealed record Shift(double By, double Extra, double Weight, string Says);
}
