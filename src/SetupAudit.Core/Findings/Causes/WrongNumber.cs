using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Findings.Causes;

/// <summary>The causes that make another number out of the right one: units, decimal point, sign, a digit, applied
/// twice, a diameter for a radius.</summary>
internal sealed class WrongNumber(
    string name, double together, Func<CauseQuestion, OffsetKey, double, IEnumerable<Guess>> guesses) : ICauseModel
{
    // A point left out makes increments of units: by a thousand in mm, ten thousand in inches.
    private static readonly (double By, double Weight)[] Powers =
    [
        (10, 0.2), (100, 0.1), (1000, 0.25), (10000, 0.05), (0.1, 0.15), (0.01, 0.05), (0.001, 0.18), (0.0001, 0.02),
    ];

    public string Name => name;

    public double Together => together;

    public IEnumerable<Guess> Guesses(CauseQuestion question, OffsetKey key)
    {
        var expected = question.Expected(key);
        return double.IsNaN(expected) || expected == 0 ? [] : guesses(question, key, expected);
    }

    public static WrongNumber InchMm { get; } =
        new("inch-mm-mixed", 0.7, (_, key, expected) => key.IsDatum && !key.IsLinear ? [] :
    [
        new Guess(expected * 25.4, 25.4, 0, 0.5, "inches taken for mm (times 25.4)"),
        new Guess(expected / 25.4, 1 / 25.4, 0, 0.5, "mm taken for inches (divided by 25.4)"),
    ]);

    public static WrongNumber DecimalPoint { get; } = new("decimal-point-lost", 0.4, (_, _, expected) =>
        Powers.Select(power => new Guess(expected * power.By, power.By, 0, power.Weight, power.By > 1
            ? $"a decimal point lost (times {CauseQuestion.Number(power.By)})"
            : $"a decimal point misplaced (divided by {CauseQuestion.Number(1 / power.By)})")));

    public static WrongNumber Sign { get; } = new("sign-flipped", 0.25, (_, _, expected) =>
        [new Guess(-expected, 1, 0, 1, "the sign the wrong way round")]);

    public static WrongNumber AppliedTwice { get; } = new("applied-twice", 0.4, (question, key, expected) =>
    {
        List<Guess> guesses = [new Guess(2 * expected, 2, 0, 0.4, "the value applied twice")];
        if (question.Setup.Before.Value(key) is { } before && (double)before != 0)
        {
            guesses.Add(new Guess(
                2 * expected - (double)before, 2, 0, 0.4,
                    $"the shift from {before.ToString(CultureInfo.InvariantCulture)} applied twice"));
            guesses.Add(new Guess(
                expected + (double)before, 1, 0, 0.2,
                    $"the new value added to the {before.ToString(CultureInfo.InvariantCulture)} that stood"));
        }
        return guesses;
    });

    public static WrongNumber DiameterForRadius { get; } =
        new("diameter-for-radius", 0.02, (question, key, expected) => HoldsDiameter(question, key)
        ?
        [
            new Guess(expected * 2, 2, 0, 0.5, "a diameter where a radius was wanted (twice the value)"),
            new Guess(expected / 2, 0.5, 0, 0.5, "a radius where a diameter was wanted (half the value)"),
        ]
        : []);

    /// <summary>One digit mistyped, two neighbours swapped, or one left out, of the value as it usually is.</summary>
    public static WrongNumber MistypedDigit { get; } = new("mistyped-digit", 0.02, (question, _, expected) =>
    {
        var digits = Digits(question, expected);
        var wrong = Typos(digits.Text).Distinct().Select(text => Parse(text, digits.Places) * Math.Sign(expected))
            .Where(value => value != expected).Distinct().ToList();
        return wrong.Select(value => new Guess(value, 1, 0, 1.0 / wrong.Count, "one digit mistyped"));
    });

    private static bool HoldsDiameter(CauseQuestion question, OffsetKey key) => key.IsTool
        ? key.Part is ToolPart.Diameter or ToolPart.DiameterWear or ToolPart.NoseRadius or ToolPart.X
        : question.Machine.IsLathe && key.Axis == Axis.X;

    private static (string Text, int Places) Digits(CauseQuestion question, double expected)
    {
        var places = Math.Clamp((int)Math.Round(-Math.Log10((double)question.Machine.Resolution)), 0, 6);
        var text = Math.Abs(expected).ToString(
            "F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return (text.Replace(".", "", StringComparison.Ordinal), places);
    }

    private static IEnumerable<string> Typos(string digits)
    {
        for (var i = 0; i < digits.Length; i++)
        {
            for (var digit = '0'; digit <= '9'; digit++)
                if (digit != digits[i]) yield return digits[..i] + digit + digits[(i + 1)..];
            if (i + 1 < digits.Length && digits[i] != digits[i + 1])
                yield return digits[..i] + digits[i + 1] + digits[i] + digits[(i + 2)..];
        }
    }

    private static double Parse(string digits, int places) =>
        double.Parse(digits, CultureInfo.InvariantCulture) / Math.Pow(10, places);
}
