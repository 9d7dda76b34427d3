using System.Globalization;
using System.Text;

namespace SetupAudit.Alerts.Channels;

/// <summary>
/// Writes an entry as RFC 5424 section 6 says. Whatever the parts hold, the result is one message: names are cut to
/// what the header allows, and the three signs that end a value are escaped.
/// </summary>
internal static class SyslogFormat
{
    private const int HostMost = 255;
    private const int AppMost = 48;
    private const int ProcessMost = 128;
    private const int KindMost = 32;
    private const int NameMost = 32;
    private const string CutMark = " ...(cut)";

    /// <param name="octetsMost">The text is cut so that the whole is no longer; the cut is marked.</param>
    public static byte[] Of(SyslogEntry entry, int octetsMost)
    {
        var head = Encoding.UTF8.GetBytes(Head(entry));
        if (entry.Text is not { } text) return head;
        byte[] mark = [(byte)' ', .. Encoding.UTF8.Preamble];
        return [.. head, .. mark, .. Cut(text, octetsMost - head.Length - mark.Length)];
    }

    /// <summary>At most so many octets of UTF-8, never half a character.</summary>
    public static byte[] Cut(string text, int octetsMost)
    {
        var whole = Encoding.UTF8.GetBytes(text);
        if (whole.Length <= octetsMost) return whole;
        var length = Math.Max(0, octetsMost - CutMark.Length);
        while (length > 0 && (whole[length] & 0xC0) == 0x80) length--;
        return [.. whole[..length], .. Encoding.UTF8.GetBytes(CutMark)];
    }

    private static string Head(SyslogEntry entry) => string.Create(CultureInfo.InvariantCulture,
        $"<{entry.Facility * 8 + entry.Severity}>1 {entry.AtUtc.UtcDateTime:yyyy-MM-dd'T'HH:mm:ss.FFFFFF'Z'} ")
        + $"{Plain(entry.Host, HostMost)} {Plain(entry.App, AppMost)} {Plain(entry.ProcessId, ProcessMost)} "
        + $"{Plain(entry.Kind, KindMost)} {Structured(entry.Elements)}";

    // Printable US-ASCII; "-" where there is nothing.
    private static string Plain(string? text, int most) =>
        string.IsNullOrEmpty(text) ? "-" : Printable(text, most, "");

    private static string Printable(string text, int most, string except) => string.Concat(text.Take(most)
        .Select(letter => letter is > ' ' and < '\x7f' && !except.Contains(letter) ? letter : '?'));

    private static string Structured(IReadOnlyList<SyslogElement> elements)
    {
        if (elements.Count == 0) return "-";
        var text = new StringBuilder();
        foreach (var element in elements)
        {
            text.Append('[').Append(Name(element.Id));
            foreach (var (name, value) in element.Values)
                text.Append(' ').Append(Name(name)).Append("=\"").Append(Escaped(value)).Append('"');
            text.Append(']');
        }
        return text.ToString();
    }

    private static string Name(string text) => Printable(text, NameMost, "=]\"");

    // Section 6.3.3: these three, and no others.
    private static string Escaped(string value) => value
        .Replace("\\", "\\\\", StringComparison.Ordinal)
        .Replace("\"", "\\\"", StringComparison.Ordinal)
        .Replace("]", "\\]", StringComparison.Ordinal);
}
