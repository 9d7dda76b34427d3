using System.Globalization;
using System.Text.RegularExpressions;

namespace SetupAudit.Shop;

/// <summary>
/// Regular expressions of the configuration. They meet text that anyone can put on a share, so they run in a time that
/// grows with the text alone; what cannot be matched so is refused.
/// </summary>
public static class LinearPattern
{
    private const RegexOptions Linear = RegexOptions.NonBacktracking | RegexOptions.CultureInvariant;

    /// <summary>Throws where <see cref="Fault"/> gives a sentence: the configuration has been checked.</summary>
    public static Regex Create(string pattern) => new(pattern, Linear);

    /// <summary>The same for a text of many lines: ^ and $ stand at the ends of each.</summary>
    public static Regex CreateForLines(string pattern) => new(pattern, Linear | RegexOptions.Multiline);

    /// <summary>Why the pattern cannot be used, in words; null where it can.</summary>
    public static string? Fault(string pattern)
    {
        try
        {
            _ = Create(pattern);
            return null;
        }
        catch (RegexParseException wrong)
        {
            return $"is no regular expression: {Reason(wrong)}";
        }
        catch (NotSupportedException)
        {
            return "cannot be matched in linear time; leave out look-arounds, back-references, atomic groups, "
                + "conditions and very large counts";
        }
    }

    // .NET's sentence repeats the pattern before it comes to the point.
    private static string Reason(RegexParseException wrong)
    {
        var words = string.Create(CultureInfo.InvariantCulture, $"at offset {wrong.Offset}. ");
        var at = wrong.Message.LastIndexOf(words, StringComparison.Ordinal);
        return at < 0
            ? wrong.Message
            : string.Create(CultureInfo.InvariantCulture,
                $"at its character {wrong.Offset}, {wrong.Message[(at + words.Length)..]}");
    }
}
