using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>The causes that shift an offset by a length the shop knows: risers, gauges, edge finders, the stylus, the
/// stock, the end of a search.</summary>
internal sealed class KnownLength(
    string name, double together, Func<OffsetKey, double> share,
    Func<CauseQuestion, OffsetKey, IEnumerable<KnownLength.Shift>> shifts) : ICauseModel
{
    // In mm: milled stock, and sawn.
    private static readonly (double Spread, double Weight)[] StockSpreads = [(0.03, 0.6), (0.25, 0.4)];

    public string Name => name;

    public Manner Manner { get; private init; } = Manner.AtTheTouch;

    public double Together => together;

    public double Share(OffsetKey key) => share(key);

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
    public static KnownLength Riser { get; } = new("riser-height", 0.02, _ => 1, (question, key) =>
    {
        if (!Shares.IsZ(key)) return [];
        var risers = question.Machine.Risers.Select(riser => (double)riser).ToList();
        var stacks = risers.SelectMany((first, index) => risers.Skip(index).Select(second => first + second)).ToList();
        return Both(Evenly(risers, 0.85).Concat(Evenly(stacks, 0.15))
            .Select(item => new Shift(item.Length, 0, item.Weight, $"a {Said(question, item.Length)} riser")));
    });

    /// <summary>A surface touched against a gauge whose height was not taken off, or taken off twice.</summary>
    public static KnownLength Gauge { get; } =
        new("gauge-height", 0.02, key => Shares.IsZ(key) ? 0.8 : 0.2, (question, key) =>
            Shares.IsZ(key) || Shares.IsLength(key)
                ? Both(Evenly(question.Machine.Gauges.Select(gauge => (double)gauge).ToList(), 1)
                    .Select(item => new Shift(item.Length, 0, item.Weight, $"a {Said(question, item.Length)} gauge")))
                : []);

    /// <summary>An edge touched with an edge finder and its radius not taken off, or taken off on the wrong
    /// side.</summary>
    public static KnownLength EdgeFinder { get; } =
        new("edge-finder-radius", 0.5, key => Shares.EdgesAndSeldomZ(key), (question, key) => Shares.IsXy(key)
            ? Both(Evenly(question.Machine.EdgeFinders.Select(finder => (double)finder).ToList(), 1)
                .SelectMany(item => new[]
                {
                    new Shift(item.Length / 2, 0, 0.85 * item.Weight,
                        $"half of a {Said(question, item.Length)} edge finder"),
                    new Shift(item.Length, 0, 0.15 * item.Weight,
                        $"a {Said(question, item.Length)} edge finder, its radius taken off on the wrong side,"),
                }))
            : [])
        {
            Manner = Manner.ByHand,
        };

    /// <summary>The centre of the stylus ball taken for its surface.</summary>
    public static KnownLength Stylus { get; } =
        new("stylus-radius", 0.5, key => Shares.EdgesAndSeldomZ(key), (question, key) =>
            question.Machine.StylusDiameter is { } diameter && (Shares.IsXy(key) || Shares.IsZ(key))
                ? Both([new Shift((double)diameter / 2, 0, 1,
                    $"half of the {Said(question, (double)diameter)} stylus")])
                : []);

    /// <summary>Another corner, or the other face, of the stock.</summary>
    public static KnownLength OtherCorner { get; } =
        new("other-corner", 0.3, key => Shares.EdgesAndSeldomZ(key), (question, key) =>
            key.IsDatum && question.Stock(key) is { } stock
                ? OfStock(question, stock, 1, $"the stock's {Said(question, stock)} along {key.Axis}")
                : []);

    /// <summary>The centre of the stock where its edge was wanted, or the edge for the centre.</summary>
    public static KnownLength CentreForEdge { get; } =
        new("centre-for-edge", 0.6, key => Shares.EdgesAndSeldomZ(key), (question, key) =>
            Shares.IsXy(key) && question.Stock(key) is { } stock
                ? OfStock(question, stock, 0.5, $"half of the stock's {Said(question, stock)} along {key.Axis}")
                : []);

    /// <summary>The end of a search that met no surface, left standing as if it were one.</summary>
    public static KnownLength SearchEnd { get; } =
        new("search-end", 0.1, key => Shares.ZAndSeldomEdges(key), (question, key) =>
        {
            if (question.Machine.Search is not { } search || !key.IsDatum) return [];
            var standoff = question.Machine.Standoff ?? 0m;
            var beyond = (double)(search - standoff);
            var says = $"the end of a {Said(question, (double)search)} search, "
                + $"started {Said(question, (double)standoff)} off the surface,";
            // A hand-set start is exact to a millimetre or so; a programmed one to the digit.
            Shift[] ends = [new(-beyond, 0, 0.5, says), new(-beyond, question.FromMm(0.6), 0.5, says)];
            return Shares.IsZ(key) ? ends : Shares.IsXy(key) ? Both(ends) : [];
        });

    /// <summary>A number of that unit, as a person reads it.</summary>
    public static string Said(CauseQuestion question, double length) =>
        $"{CauseQuestion.Number(length)} {question.UnitName}";

    private static IEnumerable<Shift> OfStock(CauseQuestion question, double stock, double part, string says) =>
        Both(StockSpreads.Select(
            item => new Shift(part * stock, part * question.FromMm(item.Spread), item.Weight, says)));

    private static IEnumerable<(double Length, double Weight)> Evenly(List<double> lengths, double share) =>
        lengths.Select(length => (length, share / lengths.Count));

    private static IEnumerable<Shift> Both(IEnumerable<Shift> shifts) => shifts.SelectMany(shift => new[]
    {
        shift with { Weight = shift.Weight / 2 },
        shift with { By = -shift.By, Weight = shift.Weight / 2 },
    });

    /// <param name="By">What is added to the usual value.</param>
    /// <param name="Extra">Variation of its own, as a standard deviation.</param>
    internal sealed record Shift(double By, double Extra, double Weight, string Says);
}
