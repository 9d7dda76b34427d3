using System.Globalization;
using SetupAudit.Units;

namespace SetupAudit.Reports;

/// <summary>Numbers and moments as people read them on a page.</summary>
public sealed class Figures(TimeZoneInfo zone)
{
    // A hyphen is short enough to be overlooked on paper, and a sign overlooked is a crash.
    private const char Minus = '\u2212';
    private const string Unknown = "unknown";

    /// <summary>The digits as they were found, with a true minus.</summary>
    public static string Number(decimal? value) =>
        value is { } number ? number.ToString(CultureInfo.InvariantCulture).Replace('-', Minus) : Unknown;

    /// <summary>For a terminal, where a number may be copied: the digits as they were found, with a hyphen.</summary>
    public static string Plain(decimal? value) =>
        value?.ToString(CultureInfo.InvariantCulture) ?? Unknown;

    /// <summary>With its sign also where it is positive.</summary>
    public static string Signed(decimal value) => value > 0 ? "+" + Number(value) : Number(value);

    public static string WithUnit(decimal? value, Unit unit) =>
        value is null ? Unknown : $"{Number(value)} {Length.ShortName(unit)}";

    public static string Count(int count, string one, string many) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    /// <summary>Day and time on the shop's clock: Mon 2 Mar 2026, 07:10.</summary>
    public string Local(DateTimeOffset moment) => At(moment, "ddd d MMM yyyy, HH:mm");

    /// <summary>Day and time to the second: 2 Mar 07:10:04.</summary>
    public string LocalShort(DateTimeOffset moment) => At(moment, "d MMM HH:mm:ss");

    public string LocalDay(DateTimeOffset moment) => At(moment, "d MMM yyyy");

    public string LocalClock(DateTimeOffset moment) => At(moment, "HH:mm");

    /// <summary>The same in UTC, for those who compare with a log: 2026-03-02 07:10:04Z.</summary>
    public static string Utc(DateTimeOffset moment) =>
        moment.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private string At(DateTimeOffset moment, string format) =>
        TimeZoneInfo.ConvertTime(moment, zone).ToString(format, CultureInfo.InvariantCulture);
}
