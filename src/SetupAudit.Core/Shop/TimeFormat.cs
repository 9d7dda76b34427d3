using System.Globalization;

namespace SetupAudit.Shop;

/// <summary>How a file writes a time: a .NET date format, read without regard to any culture.</summary>
public static class TimeFormat
{
    private static readonly DateTime Sample = new(2031, 11, 28, 13, 47, 56, DateTimeKind.Unspecified);

    /// <summary>
    /// Why times cannot be read by the format, in words; null where they can. A sample is written and read back: a
    /// format without the day would silently take today's, and "mm" for months or "hh" for 24 hours reads wrong.
    /// </summary>
    public static string? Fault(string format)
    {
        string written;
        try
        {
            written = Sample.ToString(format, CultureInfo.InvariantCulture);
        }
        catch (FormatException)
        {
            return "is no .NET date format; use one such as yyyy-MM-dd HH:mm:ss";
        }
        if (!TryRead(written, format, out var read, out _) || read.Date != Sample.Date)
            return "does not give year, month and day (yyyy, MM, dd; mm are minutes)";
        return read.TimeOfDay != TimeSpan.Zero && read.Hour != Sample.Hour
            ? "reads 13 hours as 1; use HH, or hh together with tt"
            : null;
    }

    /// <summary>
    /// Reads a time. <paramref name="offset"/> is the written offset from UTC, null where there is none.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<char> text, string format, out DateTime local, out TimeSpan? offset)
    {
        offset = null;
        // NoCurrentDateDefault: a format without a day must never bring in the day on which it is read.
        const DateTimeStyles styles = DateTimeStyles.AllowWhiteSpaces | DateTimeStyles.NoCurrentDateDefault;
        if (!IsWithOffset(text.TrimEnd(), format))
            return DateTime.TryParseExact(text, format, CultureInfo.InvariantCulture, styles, out local);
        local = default;
        if (!DateTimeOffset.TryParseExact(text, format, CultureInfo.InvariantCulture,
            DateTimeStyles.AllowWhiteSpaces | DateTimeStyles.AssumeUniversal, out var moment)) return false;
        local = moment.DateTime;
        offset = moment.Offset;
        return true;
    }

    // z always writes an offset from UTC, K only where there is one.
    private static bool IsWithOffset(ReadOnlySpan<char> text, string format) => format switch
    {
        "r" or "R" or "u" => true,
        "o" or "O" => EndsInOffset(text),
        _ => Asks(format, 'z') || (Asks(format, 'K') && EndsInOffset(text)),
    };

    private static bool EndsInOffset(ReadOnlySpan<char> text) =>
        text is [.., 'Z']
        || (text is [.., '+' or '-', _, _, ':', _, _] && char.IsAsciiDigit(text[^5]) && char.IsAsciiDigit(text[^1]));

    private static bool Asks(string format, char specifier)
    {
        var quote = '\0';
        for (var at = 0; at < format.Length; at++)
        {
            var letter = format[at];
            if (letter == '\\') at++;
            else if (quote != '\0') quote = letter == quote ? '\0' : quote;
            else if (letter is '\'' or '"') quote = letter;
            else if (letter == specifier) return true;
        }
        return false;
    }
}
