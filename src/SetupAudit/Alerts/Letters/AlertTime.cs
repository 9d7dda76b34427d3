using System.Globalization;

namespace SetupAudit.Alerts.Letters;

/// <summary>Moments on the shop's clock, with the zone named: a message may be read anywhere.</summary>
internal static class AlertTime
{
    /// <summary>
    /// 2026-03-02 07:14 (Europe/London, UTC+00:00); in UTC where the computer does not know the zone.
    /// </summary>
    public static string Of(DateTimeOffset momentUtc, string zone)
    {
        if (!TimeZoneInfo.TryFindSystemTimeZoneById(zone, out var known)) known = TimeZoneInfo.Utc;
        var local = TimeZoneInfo.ConvertTime(momentUtc, known);
        var name = known.Equals(TimeZoneInfo.Utc) ? "" : zone + ", ";
        var sign = local.Offset < TimeSpan.Zero ? '-' : '+';
        return string.Create(CultureInfo.InvariantCulture,
            $"{local:yyyy-MM-dd HH:mm} ({name}UTC{sign}{local.Offset.Duration():hh\\:mm})");
    }
}
