using System.Buffers;
using System.Text;

namespace SetupAudit.Store.Postgres;

/// <summary>
/// Texts as PostgreSQL takes them. It has no place for U+0000, which a text from a share may hold: that is written as
/// two characters, and the one that they begin with as two others, so that each text comes back as it was, and texts
/// sort as they did. Half a surrogate pair becomes U+FFFD, as in SQLite.
/// </summary>
internal static class PostgresText
{
    private const string Nul = "\u0001\u0001";
    private const string First = "\u0001\u0002";

    private static readonly SearchValues<char> Written = SearchValues.Create('\0', '\u0001');

    public static string ToColumn(string text)
    {
        if (HasHalfPair(text)) text = Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text));
        if (!text.AsSpan().ContainsAny(Written)) return text;
        return text.Replace("\u0001", First, StringComparison.Ordinal).Replace("\0", Nul, StringComparison.Ordinal);
    }

    public static string FromColumn(string text)
    {
        var at = text.IndexOf('\u0001', StringComparison.Ordinal);
        if (at < 0) return text;
        var read = new StringBuilder(text.Length).Append(text, 0, at);
        for (; at < text.Length; at++)
        {
            var isPair = text[at] == '\u0001' && at + 1 < text.Length && text[at + 1] is '\u0001' or '\u0002';
            read.Append(!isPair ? text[at] : text[++at] == '\u0001' ? '\0' : '\u0001');
        }
        return read.ToString();
    }

    private static bool HasHalfPair(string text)
    {
        for (var at = text.AsSpan().IndexOfAnyInRange('\uD800', '\uDFFF'); at >= 0 && at < text.Length; at++)
        {
            if (!char.IsSurrogate(text[at])) continue;
            if (at + 1 >= text.Length || !char.IsSurrogatePair(text[at], text[at + 1])) return true;
            at++;
        }
        return false;
    }
}
