using System.Text;

namespace SetupAudit.Shop.Configuration;

/// <summary>How fault sentences show what was found and what is allowed.</summary>
internal static class Wording
{
    private const int TextMost = 60;

    /// <summary>The text in quotes, cut where it is long; control characters are shown as question marks.</summary>
    public static string Quote(ReadOnlySpan<char> text) => $"\"{Short(text)}\"";

    public static string Short(ReadOnlySpan<char> text, int most = TextMost)
    {
        var shown = new StringBuilder();
        foreach (var letter in text[..Math.Min(text.Length, most)])
            shown.Append(char.IsControl(letter) || char.IsSurrogate(letter) ? '?' : letter);
        return text.Length <= most ? shown.ToString() : shown.Append("...").ToString();
    }

    /// <summary>"a", "a or b", "a, b or c".</summary>
    public static string Or(IReadOnlyList<string> words) => words.Count switch
    {
        0 => "",
        1 => words[0],
        _ => string.Join(", ", words.Take(words.Count - 1)) + " or " + words[^1],
    };
}
