using System.Buffers;
using System.Text;
using SetupAudit.Readings;

namespace SetupAudit.Commands;

/// <summary>Picks single lines out of a text, as the readers count them: CR, LF or both end a line.</summary>
internal static class LinePicker
{
    /// <summary>A line for a report: what is longer is cut there anyway.</summary>
    private const int LineBytesMost = 4096;

    /// <summary>Beyond this a quotation would take longer than a person waits: the line is named, not quoted.</summary>
    private const long FileBytesMost = 64 << 20;

    private static readonly SearchValues<byte> LineEnds = SearchValues.Create("\r\n"u8);

    public static async Task<IReadOnlyDictionary<int, string>> PickAsync(
        Stream bytes, IReadOnlySet<int> lines, CancellationToken token)
    {
        if (bytes.Length > FileBytesMost) return new Dictionary<int, string>();
        using var whole = new MemoryStream();
        await bytes.CopyToAsync(whole, token);
        return Pick(PlainText.Of(whole.GetBuffer().AsSpan(0, (int)whole.Length)).Bytes, lines);
    }

    internal static IReadOnlyDictionary<int, string> Pick(ReadOnlySpan<byte> text, IReadOnlySet<int> lines)
    {
        var found = new Dictionary<int, string>();
        for (var number = 1; text.Length > 0 && found.Count < lines.Count; number++)
        {
            var end = text.IndexOfAny(LineEnds);
            var line = end < 0 ? text : text[..end];
            if (lines.Contains(number))
                found[number] = Encoding.UTF8.GetString(line[..Math.Min(line.Length, LineBytesMost)]);
            if (end < 0) break;
            text = text[(end + (text[end] == '\r' && end + 1 < text.Length && text[end + 1] == '\n' ? 2 : 1))..];
        }
        return found;
    }
}
