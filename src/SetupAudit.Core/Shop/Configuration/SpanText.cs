using System.Globalization;

namespace SetupAudit.Shop.Configuration;

/// <summary>
/// Reads time spans: hours:minutes:seconds with days in front or parts of a second behind where wanted ("02:00:00",
/// "36:00:00", "1.12:00:00", "00:00:00.5"). .NET's own reading takes "24:00:00" for 24 days.
/// </summary>
internal static class SpanText
{
    private const int DaysMost = 100_000;
    private const int HoursMost = 99_999;
    private const int FractionDigitsMost = 7;

    public static bool TryParse(string text, out TimeSpan span)
    {
        span = TimeSpan.Zero;
        var isNegative = text.StartsWith('-');
        var parts = (isNegative || text.StartsWith('+') ? text[1..] : text).Split(':');
        if (parts.Length != 3) return false;
        if (!TryHours(parts[0], out var hours) || !TryWhole(parts[1], 59, out var minutes)) return false;
        if (parts[1].Length != 2 || !TrySeconds(parts[2], out var seconds)) return false;
        span = hours + TimeSpan.FromMinutes(minutes) + seconds;
        if (isNegative) span = -span;
        return true;
    }

    private static bool TryHours(string text, out TimeSpan span)
    {
        span = TimeSpan.Zero;
        var point = text.IndexOf('.', StringComparison.Ordinal);
        var days = 0;
        if (point >= 0 && !TryWhole(text[..point], DaysMost, out days)) return false;
        if (!TryWhole(text[(point + 1)..], point >= 0 ? 23 : HoursMost, out var hours)) return false;
        span = TimeSpan.FromHours(days * 24 + hours);
        return true;
    }

    private static bool TrySeconds(string text, out TimeSpan span)
    {
        span = TimeSpan.Zero;
        var point = text.IndexOf('.', StringComparison.Ordinal);
        var whole = point < 0 ? text : text[..point];
        if (whole.Length != 2 || !TryWhole(whole, 59, out var seconds)) return false;
        var ticks = 0;
        if (point >= 0)
        {
            var fraction = text[(point + 1)..];
            if (fraction.Length is 0 or > FractionDigitsMost) return false;
            if (!TryWhole(fraction.PadRight(FractionDigitsMost, '0'), 9_999_999, out ticks)) return false;
        }
        span = TimeSpan.FromSeconds(seconds) + TimeSpan.FromTicks(ticks);
        return true;
    }

    private static bool TryWhole(string text, int most, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value) && value <= most;
}
