using System.Text;

namespace SetupAudit.Architecture;

/// <summary>
/// C# with the insides of its strings, characters and comments blanked, line for line and column for column, so that a
/// pattern looked for in code is not met in prose. What stands in an interpolation's holes is blanked too.
/// </summary>
public static class CodeOnly
{
    public static string Of(string text)
    {
        var code = new StringBuilder(text);
        for (var at = 0; at < text.Length;)
        {
            var end = EndOfProse(text, at);
            for (var inside = at; inside < end; inside++)
                if (text[inside] != '\n') code[inside] = ' ';
            at = Math.Max(end, at + 1);
        }
        return code.ToString();
    }

    /// <summary>Where the comment or literal that begins here ends; the same place where none begins.</summary>
    private static int EndOfProse(string text, int at)
    {
        if (Starts(text, at, "//")) return Until(text, at, "\n", 0);
        if (Starts(text, at, "/*")) return Until(text, at + 2, "*/", 2);
        if (text[at] == '\'') return EndOfQuoted(text, at + 1, '\'', holes: false, verbatim: false);
        var quote = at;
        while (quote < text.Length && text[quote] is '$' or '@') quote++;
        if (quote >= text.Length || text[quote] != '"') return at;
        var quotes = quote;
        while (quotes < text.Length && text[quotes] == '"') quotes++;
        if (quotes - quote >= 3) return Until(text, quotes, new string('"', quotes - quote), quotes - quote);
        var prefix = text.AsSpan(at, quote - at);
        return EndOfQuoted(text, quote + 1, '"', prefix.Contains('$'), prefix.Contains('@'));
    }

    private static int EndOfQuoted(string text, int at, char quote, bool holes, bool verbatim)
    {
        while (at < text.Length)
        {
            if (text[at] == '\\' && !verbatim) at += 2;
            else if (verbatim && Starts(text, at, "\"\"")) at += 2;
            else if (text[at] == quote) return at + 1;
            else if (holes && Starts(text, at, "{{")) at += 2;
            else if (holes && text[at] == '{') at = EndOfHole(text, at + 1);
            else if (text[at] == '\n' && !verbatim) return at;
            else at++;
        }
        return text.Length;
    }

    private static int EndOfHole(string text, int at)
    {
        while (at < text.Length && text[at] != '}')
        {
            var end = text[at] == '{' ? EndOfHole(text, at + 1) : EndOfProse(text, at);
            at = Math.Max(end, at + 1);
        }
        return Math.Min(at + 1, text.Length);
    }

    private static int Until(string text, int from, string mark, int past)
    {
        var found = text.IndexOf(mark, Math.Min(from, text.Length), StringComparison.Ordinal);
        return found < 0 ? text.Length : found + past;
    }

    private static bool Starts(string text, int at, string with) => string.CompareOrdinal(text, at, with, 0, with.Length) == 0;
}
