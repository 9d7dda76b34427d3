using System.Globalization;
using System.Text;

namespace SetupAudit.People;

/// <summary>Names of people: one person's, however they are written.</summary>
public static class PersonName
{
    public const int LongestLetters = 100;

    /// <summary>A name as it is kept and printed: Unicode form C, single blanks.</summary>
    public static string Normal(string name) => string.Join(
        ' ', name.Normalize(NormalizationForm.FormC).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>
    /// The same for every way of writing a name: capitals, composed and compatible letters (Unicode form KC).
    /// </summary>
    public static string Folded(string name)
    {
        var even = Normal(name).Normalize(NormalizationForm.FormKC);
        // The simple case tables leave the sharp s alone; full case folding makes it ss.
        var folded = even.ToUpperInvariant().Replace("ß", "SS", StringComparison.Ordinal)
            .Replace("ẞ", "SS", StringComparison.Ordinal);
        return folded.ToLowerInvariant().Normalize(NormalizationForm.FormKC);
    }

    /// <summary>Why a name cannot be taken, as a sentence; null where it can.</summary>
    public static string? Fault(string name)
    {
        if (!IsWellFormed(name)) return "The name holds characters that are not Unicode text.";
        var normal = Normal(name);
        if (normal.Length == 0) return "The name is empty.";
        if (normal.Length > LongestLetters)
            return string.Create(CultureInfo.InvariantCulture, $"The name is longer than {LongestLetters} letters.");
        // Signs that are not seen, or that turn the direction of writing, make two names look like one.
        return normal.EnumerateRunes().Any(IsUnseen) ? "The name holds characters that cannot be seen." : null;
    }

    internal static bool IsWellFormed(string text)
    {
        for (var at = 0; at < text.Length; at++)
        {
            if (!char.IsSurrogate(text[at])) continue;
            if (!char.IsHighSurrogate(text[at]) || at + 1 == text.Length || !char.IsLowSurrogate(text[at + 1]))
                return false;
            at++;
        }
        return true;
    }

    private static bool IsUnseen(Rune rune) => Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control
        or UnicodeCategory.Format or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned
        or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
}
