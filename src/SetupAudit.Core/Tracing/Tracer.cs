using System.Globalization;
using MathNet.Numerics.Distributions;
using SetupAudit.Units;

namespace SetupAudit.Tracing;

/// <summary>Which recorded change explains a part error: each wrong offset predicts an error, alone or with one
/// other.</summary>
public sealed class Tracer(TraceEvidence evidence, PartError error)
{
    // Two mistakes at once are rarer than one; something that no source shows is always possible.
    private const double PairWeight = 0.05;
    private const double UnseenWeight = 1;
    private const double LeastShown = 0.005;

    // Beyond so many spreads from the usual no chance is left to speak of.
    private const double MostSpreads = 6;

    private readonly string _unit = Length.ShortName(evidence.Case.Machine.Units);

    /// <summary>The answer; the same for the same evidence.</summary>
    public Trace Run()
    {
        var suspects = new SuspectFinder(evidence, error).Find();
        var found = new List<(TracedChange Row, Suspect Suspect)>();
        var blamed = new List<Suspect>();
        var unseen = 0.0;
        foreach (var (along, measured, effect) in Directions())
        {
            var ranked = Rank(suspects, measured, effect);
            unseen = Math.Max(unseen, ranked.Unseen);
            var ranks = ranked.Hypotheses
                .SelectMany(item => Traced(item.Hypothesis, item.Probability, along, measured)).ToList();
            blamed.AddRange(Blamed(Merge(ranks), ranked.Hypotheses));
            found.AddRange(ranks);
        }
        var merged = Merge(found);
        var changes = merged.ConvertAll(item => item.Row);
        var unexplained = changes.Count == 0 || unseen > 0.5;
        var windows = new WindowFinder(evidence);
        var spoiled = SpoiledParts.Of(windows, unexplained ? [] : blamed);
        return new Trace
        {
            Changes = changes,
            Window = spoiled.Window,
            CyclesKnown = windows.Known(spoiled.Window),
            Cycles = spoiled.Cycles,
            LastGood = spoiled.LastGood,
            FirstAfter = spoiled.FirstAfter,
            Unexplained = unexplained,
            UnexplainedProbability = Math.Round((decimal)unseen, 4),
            NotRecorded =
            [
                .. TraceDoubts.Of(evidence, error), .. unexplained ? OtherSigns(suspects) : [],
                .. windows.NotRecorded(merged.Count == 0 ? null : merged[0].Row.Key),
            ],
        };
    }

    private IEnumerable<string> OtherSigns(IReadOnlyList<Suspect> suspects) => Directions().Select(direction =>
        TraceDoubts.OtherSign(direction.Along, direction.Measured, (double)error.Uncertainty, suspects
            .Select(suspect => (suspect, Predicted: direction.Effect(suspect)))
            .Where(part => part.Predicted is not null and not 0)
            .Select(part => (part.suspect, part.Predicted.GetValueOrDefault())))).OfType<string>();

    // The likeliest wrong offset of a direction, and the one it explains the error together with.
    private static IEnumerable<Suspect> Blamed(
        List<(TracedChange Row, Suspect Suspect)> merged, List<(Hypothesis Hypothesis, double Probability)> hypotheses)
    {
        if (merged.Count == 0) return [];
        var top = merged[0].Suspect;
        var best = hypotheses.MaxBy(item => item.Probability).Hypothesis;
        return best.Parts.Any(part => part.Suspect == top) ? best.Parts.Select(part => part.Suspect) : [top];
    }

    private IEnumerable<(string Along, double Measured, Func<Suspect, double?> Effect)> Directions()
    {
        foreach (var (axis, value) in error.ByAxis)
            yield return (axis.ToString(), (double)value, suspect =>
                SignRules.OnAxis(suspect.Key, axis, suspect.Wrong));
        if (error.Diameter is { } diameter)
            yield return ("diameter", (double)diameter, suspect =>
                SignRules.OnDiameter(suspect.Key, error.Inside, evidence.Case.Machine.IsLathe, suspect.Wrong));
    }

    private (List<(Hypothesis Hypothesis, double Probability)> Hypotheses, double Unseen) Rank(
        IReadOnlyList<Suspect> suspects, double measured, Func<Suspect, double?> effect)
    {
        var parts = suspects.Select(suspect => (Suspect: suspect, Predicted: effect(suspect)))
            .Where(part => part.Predicted is not null)
                .Select(part => (part.Suspect, Predicted: part.Predicted.GetValueOrDefault())).ToList();
        var hypotheses = parts.Select(part => Hypothesis(measured, part)).ToList();
        for (var i = 0; i < parts.Count; i++)
            for (var j = i + 1; j < parts.Count; j++)
                if (parts[i].Suspect.Key != parts[j].Suspect.Key)
                    hypotheses.Add(Hypothesis(measured, parts[i], parts[j]));
        var unseen = Math.Log(UnseenWeight) + AnySize(measured);
        var most = hypotheses.Select(item => item.Log).Append(unseen).Max();
        var sum = hypotheses.Sum(item => Math.Exp(item.Log - most)) + Math.Exp(unseen - most);
        return ([.. hypotheses.Select(item => (item, Math.Exp(item.Log - most) / sum))], Math.Exp(unseen - most) / sum);
    }

    /// <summary>
    /// How well one or two wrong offsets together explain the error. One that is judged against its usual value would
    /// differ from it by chance as well: only what chance does not explain speaks for a mistake of about any size.
    /// </summary>
    private Hypothesis Hypothesis(double measured, params (Suspect Suspect, double Predicted)[] parts)
    {
        var (log, variance) = (0.0, (double)(error.Uncertainty * error.Uncertainty));
        foreach (var (suspect, predicted) in parts)
        {
            log += Math.Log(suspect.Weight);
            if (suspect.Spread <= 0) continue;
            var apart = Math.Clamp(predicted, -MostSpreads * suspect.Spread, MostSpreads * suspect.Spread);
            log += AnySize(measured) - Normal.PDFLn(0, suspect.Spread, apart);
            variance += suspect.Spread * suspect.Spread;
        }
        if (parts.Length > 1) log += Math.Log(PairWeight);
        return new Hypothesis(
            parts, log + Normal.PDFLn(parts.Sum(part => part.Predicted), Math.Sqrt(variance), measured));
    }

    // Anything up to a few times what was measured is as likely as anything else.
    private double AnySize(double measured) => Math.Log(AnySize(measured, (double)error.Uncertainty));

    /// <summary>The density of a mistake of about any size, where one of a size was met.</summary>
    internal static double AnySize(double size, double uncertainty) =>
        1 / (2 * Math.Max(4 * Math.Abs(size), 20 * uncertainty));

    private IEnumerable<(TracedChange Row, Suspect Suspect)> Traced(
        Hypothesis hypothesis, double probability, string along, double measured)
    {
        foreach (var (suspect, predicted) in hypothesis.Parts)
        {
            var rest = measured - hypothesis.Predicted;
            var other = hypothesis.Parts.Count == 1 ? ""
                : $", together with {hypothesis.Parts.First(part => part.Suspect != suspect).Suspect.Key}";
            yield return (new TracedChange
            {
                Change = suspect.Change?.Id,
                Key = suspect.Key,
                Delta = Round(suspect.Wrong),
                Predicted = Round(predicted),
                Residual = Round(rest),
                Along = along,
                Probability = (decimal)probability,
                Stale = suspect.Stale,
                Because = $"{suspect.Key}: {suspect.Because}; that puts the feature {Text(Round(predicted))} {_unit} "
                    + $"off along {along}{other}, which leaves {Text(Round(Math.Abs(rest)))} {_unit} unexplained",
            }, suspect);
        }
    }

    /// <summary>One row an offset and direction: its probability is the sum over the hypotheses it is part of, its
    /// words those of the likeliest.</summary>
    private static List<(TracedChange Row, Suspect Suspect)> Merge(List<(TracedChange Row, Suspect Suspect)> found) =>
    [
        .. found.GroupBy(item => (item.Row.Key, item.Row.Change, item.Row.Along, item.Row.Stale))
            .Select(group => (Best: group.OrderByDescending(item => item.Row.Probability).First(),
                Sum: group.Sum(item => item.Row.Probability)))
            .Where(item => item.Sum >= (decimal)LeastShown)
            .Select(item => item.Best with
            {
                Row = item.Best.Row with { Probability = Math.Min(1m, Math.Round(item.Sum, 4)) },
            })
            .OrderByDescending(item => item.Row.Probability)
            .ThenBy(item => item.Row.Key.ToString(), StringComparer.Ordinal),
    ];

    private static string Text(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private decimal Round(double value)
    {
        var step = evidence.Case.Machine.Resolution;
        return Math.Round(decimal.CreateSaturating(value) / step) * step;
    }
}
