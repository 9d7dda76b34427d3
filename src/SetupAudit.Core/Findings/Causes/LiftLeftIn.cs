using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>A Z raised for a dry run and not put back.</summary>
internal sealed class LiftLeftIn : ICauseModel
{
    // A raise that was seen to stand says nearly all there is to say.
    private const double Seen = 0.9;

    // In mm and inch: what people raise by. Common practice, no source.
    private static readonly double[] StepsMm = [10, 20, 25, 30, 50, 75, 100];
    private static readonly double[] StepsInch = [0.5, 1, 2, 3, 4, 5];

    private LiftLeftIn()
    {
    }

    public static LiftLeftIn Model { get; } = new();

    public string Name => "lift-left-in";

    public Manner Manner => Manner.Afterwards;

    public double Together => 0.02;

    public double Share(OffsetKey key) => 1;

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        if (!Shares.IsZ(key) || double.IsNaN(expected)) yield break;
        var steps = question.IsInch ? StepsInch : StepsMm;
        var start = question.Intended(key);
        foreach (var step in steps)
        {
            var says = $"a lift of {KnownLength.Said(question, step)} left in";
            if (start is { } from)
                yield return new Guess(from + step, 0, question.Step / 2, Seen / steps.Length, says);
            yield return new Guess(expected + step, 1, 0, (start is null ? 1 : 1 - Seen) / steps.Length, says);
        }
        if (start is null || Odd(question, key) is not { } odd) yield break;
        yield return new Guess(expected + odd, 1, 0, 0.02, $"a lift of {KnownLength.Said(question, odd)} left in");
    }

    // Raised by no such step, but raised.
    private static double? Odd(CauseQuestion question, OffsetKey key) =>
        question.Setup.Lifts.LastOrDefault(lift => lift.Key == key && lift.PutTo is null) is { } standing
            ? (double)(standing.Raised - standing.Start)
            : null;
}
