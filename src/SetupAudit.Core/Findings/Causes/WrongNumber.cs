using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>
/// The causes that make another number out of the right one: units, decimal point, sign, applied twice, a diameter for
/// a
/// radius. Where the right one was seen before it was written over, they predict to the digit.
/// </summary>
internal sealed class WrongNumber(
    string name, double together, Func<OffsetKey, double> share,
    Func<CauseQuestion, OffsetKey, double, IEnumerable<Guess>> guesses) : ICauseModel
{
    // Of the mistakes over a touch that was seen, most start from that very number.
    private const double FromSeen = 0.8;

    public string Name => name;

    public Manner Manner => Manner.Typed;

    public double Together => together;

    public double Share(OffsetKey key) => share(key);

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        if (double.IsNaN(expected) || expected == 0) return [];
        var usual = guesses(question, key, expected);
        return question.Intended(key) is not { } intended
            ? usual
            : usual.Select(guess => guess with { Weight = guess.Weight * (1 - FromSeen) })
                .Concat(guesses(question, key, intended).Select(guess => ToTheDigit(question, guess)));
    }

    public static WrongNumber InchMm { get; } =
        new("inch-mm-mixed", 0.7, key => Shares.Typed(key), (_, key, expected) =>
        key.IsDatum && !key.IsLinear ? [] :
    [
        new Guess(expected * 25.4, 25.4, 0, 0.5, "inches taken for mm (times 25.4)"),
        new Guess(expected / 25.4, 1 / 25.4, 0, 0.5, "mm taken for inches (divided by 25.4)"),
    ]);

    public static WrongNumber DecimalPoint { get; } =
        new("decimal-point-lost", 0.2, key => Shares.Typed(key), (question, _, expected) => Powers(question)
            .Select(power => new Guess(expected * power.By, power.By, power.LosesDigits ? Rounded : 0, power.Weight,
                power.By > 1
                    ? $"a decimal point lost (times {CauseQuestion.Number(power.By)})"
                    : $"a decimal point misplaced (divided by {CauseQuestion.Number(1 / power.By)})")));

    public static WrongNumber Sign { get; } = new("sign-flipped", 0.25, key => Shares.Typed(key), (_, _, expected) =>
        [new Guess(-expected, 1, 0, 1, "the sign the wrong way round")]);

    public static WrongNumber AppliedTwice { get; } =
        new("applied-twice", 0.3, key => Shares.Applied(key), (question, key, expected) =>
        {
            List<Guess> guesses = [new Guess(2 * expected, 2, 0, 0.4, "the value applied twice")];
            if (question.Setup.Before.Value(key) is not { } before || before == 0m) return guesses;
            var stood = (double)before;
            var text = before.ToString(CultureInfo.InvariantCulture);
            guesses.Add(new Guess(2 * expected - stood, 2, 0, 0.4, $"the shift from {text} applied twice"));
            guesses.Add(new Guess(expected + stood, 1, 0, 0.2, $"the new value added to the {text} that stood"));
            return guesses;
        });

    public static WrongNumber DiameterForRadius { get; } = new(
        "diameter-for-radius", 0.02, key => Shares.Diameter(key), (question, key, expected) =>
            HoldsDiameter(question, key)
        ?
        [
            new Guess(expected * 2, 2, 0, 0.5, "a diameter where a radius was wanted (twice the value)"),
            new Guess(expected / 2, 0.5, 0, 0.5, "a radius where a diameter was wanted (half the value)"),
        ]
        : []);

    /// <summary>One digit replaced, two neighbours exchanged, one left out or doubled.</summary>
    public static WrongNumber MistypedDigit { get; } =
        new("mistyped-digit", 0.02, key => Shares.Typed(key), (question, _, expected) =>
            Typos.Of(expected, question.Step)
                .Select(typo => new Guess(typo.Value, 1, 0, typo.Weight, "one digit mistyped")));

    // Digits that were not typed with the point are lost: what stands is a whole number.
    private const double Rounded = 0.3;

    /// <summary>
    /// A point in the wrong place is off by ten either way. One left out makes increments of units where numbers
    /// without
    /// a point count increments, else units of increments, and fewer places where fewer digits were typed.
    /// </summary>
    private static IEnumerable<(double By, double Weight, bool LosesDigits)> Powers(CauseQuestion question)
    {
        yield return (10, 0.2, false);
        yield return (0.1, 0.2, false);
        var (less, more) = question.Machine.WithoutPointIsIncrements ? (0.7, 0.3) : (0.3, 0.7);
        double[] shares = [0.35, 0.15, 0.08, 0.02];
        for (var (power, i) = (question.Step, 0); i < shares.Length && power < 0.99; power *= 10, i++)
        {
            yield return (power, less * shares[i], false);
            yield return (1 / power, more * shares[i], true);
        }
    }

    private static bool HoldsDiameter(CauseQuestion question, OffsetKey key) => key.IsTool
        ? key.Part is ToolPart.Diameter or ToolPart.DiameterWear or ToolPart.NoseRadius or ToolPart.X
        : question.Machine.IsLathe && key.Axis == Axis.X;

    private static Guess ToTheDigit(CauseQuestion question, Guess guess) => guess with
    {
        Factor = 0,
        // A rounding on the way may cost a count.
        Extra = guess.Extra > 0 ? guess.Extra : question.Step / 2,
        Weight = guess.Weight * FromSeen,
    };
}
