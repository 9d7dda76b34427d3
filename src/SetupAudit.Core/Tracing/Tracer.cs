using System.Globalization;
using MathNet.Numerics.Distributions;
using SetupAudit.Units;

namespace SetupAudit.Tracing;

/// <summary>Which recorded change explains a part error: each wrong offset predicts an error, alone or with one
/// other.</summary>
public sealed class Tracer(TraceEvidence evidence, PartError error)
{
    // Two mistakes at once are rarer than one; something that no source shows is always possible.
    private const double PairWeight = 0.1;
    private const double UnseenWeight = 0.15;
    private const double LeastShown = 0.005;

    private readonly string _unit = Length.ShortName(evidence.Case.Machine.Units);

    /// <summary>The answer; the same for the same evidence.</summary>
    public Trace Run()
    {
        var suspects = new SuspectFinder(evidence, error).Find();
        var found = new List<TracedChange>();
        var unseen = 0.0;
        foreach (var (along, measured, effect) in Directions())
        {
            var ranked = Rank(suspects, measured, effect);
            unseen = Math.Max(unseen, ranked.Unseen);
            found.AddRange(ranked.Hypotheses
                .SelectMany(item => Traced(item.Hypothesis, item.Probability, along, measured)));
        }
        var changes = Merge(found);
        var unexplained = changes.Count == 0 || unseen > 0.5;
        var windows = new WindowFinder(evidence);
        var top = changes.Count == 0 ? null
            : suspects.First(item => item.Key == changes[0].Key && item.Change?.Id == changes[0].Change
                && item.Stale == changes[0].Stale);
        var window = top is null || unexplained ? null : windows.Window(top);
        return new Trace
        {
            Changes = changes,
            Window = window,
            CyclesKnown = windows.Known(window),
            Cycles = window is null || top is null ? [] : windows.Exposed(window, top.Key),
            LastGood = window is null || top is null ? null : windows.LastGood(window, top.Key),
            FirstAfter = window is null || top is null ? null : windows.FirstAfter(window, top.Key),
            Unexplained = unexplained,
            UnexplainedProbability = Math.Round((decimal)unseen, 4),
            NotRecorded = windows.NotRecorded(top?.Key),
        };
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
        var hypotheses = parts
            .Select(part => new Hypothesis(
                [part], Log(measured, part.Predicted, part.Suspect.Spread, part.Suspect.Weight))).ToList();
        for (var i = 0; i < parts.Count; i++)
            for (var j = i + 1; j < parts.Count; j++)
                if (parts[i].Suspect.Key != parts[j].Suspect.Key) hypotheses.Add(Pair(measured, parts[i], parts[j]));
        var unseen = Math.Log(UnseenWeight) + UnseenLog(measured);
        var most = hypotheses.Select(item => item.Log).Append(unseen).Max();
        var sum = hypotheses.Sum(item => Math.Exp(item.Log - most)) + Math.Exp(unseen - most);
        return ([.. hypotheses.Select(item => (item, Math.Exp(item.Log - most) / sum))], Math.Exp(unseen - most) / sum);
    }

    private Hypothesis Pair(
        double measured, (Suspect Suspect, double Predicted) first, (Suspect Suspect, double Predicted) second)
    {
        var spread = Math.Sqrt(
            first.Suspect.Spread * first.Suspect.Spread + second.Suspect.Spread * second.Suspect.Spread);
        return new Hypothesis([first, second], Log(measured, first.Predicted + second.Predicted, spread,
            PairWeight * first.Suspect.Weight * second.Suspect.Weight));
    }

    private double Log(double measured, double predicted, double spread, double weight)
    {
        var sigma = Math.Sqrt((double)(error.Uncertainty * error.Uncertainty) + spread * spread);
        return Math.Log(weight) + Normal.PDFLn(predicted, sigma, measured);
    }

    // Anything up to a few times what was measured is as likely as anything else.
    private double UnseenLog(double measured) =>
        -Math.Log(2 * Math.Max(4 * Math.Abs(measured), 20 * (double)error.Uncertainty));

    private IEnumerable<TracedChange> Traced(Hypothesis hypothesis, double probability, string along, double measured)
    {
        foreach (var (suspect, predicted) in hypothesis.Parts)
        {
            var rest = measured - hypothesis.Predicted;
            var other = hypothesis.Parts.Count == 1 ? ""
                : $", together with {hypothesis.Parts.First(part => part.Suspect != suspect).Suspect.Key}";
            yield return new TracedChange
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
            };
        }
    }

    /// <summary>One row an offset and direction: its probability is the sum over the hypotheses it is part of, its
    /// words those of the likeliest.</summary>
    private static List<TracedChange> Merge(List<TracedChange> found) =>
    [
        .. found.GroupBy(item => (item.Key, item.Change, item.Along, item.Stale))
            .Select(group => (Best: group.OrderByDescending(item => item.Probability).First(),
                Sum: group.Sum(item => item.Probability)))
            .Where(item => item.Sum >= (decimal)LeastShown)
            .Select(item => item.Best with { Probability = Math.Min(1m, Math.Round(item.Sum, 4)) })
            .OrderByDescending(item => item.Probability).ThenBy(item => item.Key.ToString(), StringComparer.Ordinal),
    ];

    private static string Text(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private decimal Round(double value)
    {
        var step = evidence.Case.Machine.Resolution;
        return Math.Round(decimal.CreateSaturating(value) / step) * step;
    }
}
