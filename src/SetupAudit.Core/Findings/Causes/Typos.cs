using System.Globalization;

namespace SetupAudit.Findings.Causes;

/// <summary>What a slip of the finger makes of a number.</summary>
internal static class Typos
{
    // Common practice, no source: most slips take another key, half of them one that lies beside the right one.
    private const double Replaced = 0.65;
    private const double Exchanged = 0.2;
    private const double LeftOut = 0.1;
    private const double Doubled = 0.05;
    private const double Beside = 0.5;

    // The keys that lie beside, above or below each digit on a number pad.
    private static readonly string[] Pad = ["12", "0245", "0153", "26", "157", "2468", "359", "48", "579", "68"];

    /// <summary>The numbers, each with its share; those that are equal to the right one are left out.</summary>
    public static IEnumerable<(double Value, double Weight)> Of(double number, double step)
    {
        var places = Math.Clamp((int)Math.Round(-Math.Log10(step)), 0, 6);
        var text = Math.Abs(number).ToString(
            "F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        var digits = Enumerable.Range(0, text.Length).Where(at => text[at] != '.').ToList();
        return digits.SelectMany((at, index) => At(text, at, index + 1 < digits.Count ? digits[index + 1] : -1))
            .Where(typo => typo.Text != text)
            .Select(typo => (Parse(typo.Text) * Math.Sign(number), typo.Weight / digits.Count))
            .Where(typo => Math.Abs(typo.Item1 - number) > step / 2);
    }

    private static IEnumerable<(string Text, double Weight)> At(string text, int at, int next)
    {
        var near = Pad[text[at] - '0'];
        for (var digit = '0'; digit <= '9'; digit++)
            yield return (text[..at] + digit + text[(at + 1)..],
                Replaced * ((1 - Beside) / 9 + (near.Contains(digit) ? Beside / near.Length : 0)));
        if (next > at)
            yield return (text[..at] + text[next] + text[(at + 1)..next] + text[at] + text[(next + 1)..], Exchanged);
        yield return (text.Remove(at, 1), LeftOut);
        yield return (text.Insert(at, text[at].ToString()), Doubled);
    }

    private static double Parse(string digits) => double.Parse("0" + digits, CultureInfo.InvariantCulture);
}
