using System.Globalization;

namespace SetupAudit.Readings;

/// <summary>Reads the times of an agent: ISO 8601, in UTC where nothing else is said.</summary>
internal static class StreamTime
{
    private const int LongestLetters = 64;
    private const int PlacesMost = 7;

    private static readonly string[] Formats = ["yyyy-MM-dd'T'HH:mm:ssK", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK"];

    /// <summary>Does not throw.</summary>
    public static bool TryRead(string? text, out DateTimeOffset utc)
    {
        utc = default;
        if (text is null || text.Length > LongestLetters) return false;
        var written = text.Trim();
        // A series of samples has its length behind its time.
        if (written.IndexOf('@') is var at and >= 0) written = written[..at];
        return DateTimeOffset.TryParseExact(WithPlaces(written), Formats, CultureInfo.InvariantCulture,
            DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out utc);
    }

    // Some agents write billionths of a second; a moment here has tenths of millionths.
    private static string WithPlaces(string text)
    {
        var point = text.IndexOf('.');
        if (point < 0) return text;
        var end = point + 1;
        while (end < text.Length && char.IsAsciiDigit(text[end])) end++;
        return end - point - 1 > PlacesMost ? text[..(point + 1 + PlacesMost)] + text[end..] : text;
    }
}
