using System.Globalization;
using System.Text;

namespace SetupAudit.Reports;

/// <summary>
/// Text from a share made fit to be shown: what would move a cursor, turn the reading direction or vanish is shown as
/// a sign instead, so that a hostile name can neither hide nor pretend.
/// </summary>
public static class VisibleText
{
    private const int ControlPictures = 0x2400;
    private const int DeletePicture = 0x2421;

    /// <summary>Every character is one that shows; a line break becomes a sign too.</summary>
    public static string Of(string text)
    {
        if (!text.EnumerateRunes().Any(rune => MustShow(rune) || rune == Rune.ReplacementChar)) return text;
        var shown = new StringBuilder(text.Length + 16);
        foreach (var rune in text.EnumerateRunes())
        {
            if (MustShow(rune)) shown.Append(Sign(rune));
            else shown.Append(rune.ToString());
        }
        return shown.ToString();
    }

    /// <summary>The text cut to a length, with how much was left out.</summary>
    public static string Of(string text, int most) => text.Length <= most
        ? Of(text)
        : string.Create(CultureInfo.InvariantCulture, $"{Of(text[..most])} ... ({text.Length - most} more characters)");

    // A lone surrogate, as a cut leaves one, enumerates as U+FFFD, which shows by itself.
    private static bool MustShow(Rune rune) => Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control
        or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
        or UnicodeCategory.OtherNotAssigned or UnicodeCategory.PrivateUse;

    private static string Sign(Rune rune) => rune.Value switch
    {
        < 0x20 => ((char)(ControlPictures + rune.Value)).ToString(),
        0x7F => ((char)DeletePicture).ToString(),
        _ => string.Create(CultureInfo.InvariantCulture, $"<U+{rune.Value:X4}>"),
    };
}
