using System.Text;

namespace SetupAudit.Readings;

/// <summary>Finds the comments of a line and blanks them out, so that every column stays where it was.</summary>
internal static class ProgramComments
{
    /// <summary>
    /// RS274/NGC (3.3.4) forbids a parenthesis in a comment; shops write some all the same, but none nest deeper.
    /// </summary>
    public const int DepthMost = 8;

    private const int TextMostCharacters = 200;

    /// <summary>
    /// Blanks the comments out and gives where the first one's text stands. On a fault its column, from 1, and why; the
    /// line then ends in front of it.
    /// </summary>
    public static Range Blank(ref Span<byte> line, out int faultColumn, out string reason)
    {
        var first = default(Range);
        (faultColumn, reason) = (0, "");
        for (var at = 0; at < line.Length; at++)
        {
            if (line[at] is not ((byte)'(' or (byte)';')) continue;
            var end = line[at] == ';' ? line.Length : EndOf(line, at, out reason);
            if (end < 0)
            {
                faultColumn = at + 1;
                line = line[..at];
                break;
            }
            if (first.Equals(default)) first = (at + 1)..end;
            line[at..Math.Min(end + 1, line.Length)].Fill((byte)' ');
            at = end;
        }
        return first;
    }

    /// <summary>
    /// What a person may read of some bytes: trimmed, cut to a length, nothing but printable characters.
    /// </summary>
    public static string? TextOf(ReadOnlySpan<byte> bytes)
    {
        bytes = bytes.Trim(" \t"u8);
        if (bytes.IsEmpty) return null;
        // A character has at most four bytes.
        var isLong = bytes.Length > TextMostCharacters * 4;
        var text = Encoding.UTF8.GetString(isLong ? bytes[..(TextMostCharacters * 4)] : bytes);
        if (text.Length > TextMostCharacters) text = text[..TextMostCharacters];
        return string.Create(text.Length, text, (to, from) =>
        {
            for (var at = 0; at < to.Length; at++)
                to[at] = char.IsControl(from[at]) || char.IsSurrogate(from[at]) ? '\uFFFD' : from[at];
        });
    }

    private static int EndOf(ReadOnlySpan<byte> line, int opened, out string reason)
    {
        reason = "a comment opens here and is not closed on its line";
        var depth = 0;
        for (var at = opened; at < line.Length; at++)
        {
            if (line[at] == ')' && --depth == 0) return at;
            if (line[at] != '(' || ++depth <= DepthMost) continue;
            reason = $"parentheses nest more than {DepthMost} deep";
            return -1;
        }
        return -1;
    }
}
