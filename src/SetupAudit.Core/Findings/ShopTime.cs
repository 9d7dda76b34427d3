using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// Writes moments for people: on the shop's clock, without a zone, as a setter reads the clock on the wall.
/// </summary>
public static class ShopTime
{
    /// <summary>Day and time to the minute, such as 2026-02-27 09:10.</summary>
    public static string Text(DateTimeOffset momentUtc, ShopConfig shop) =>
        Local(momentUtc, shop).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>The time alone where it is the day of the other moment, as 07:14; else day and time.</summary>
    public static string Near(DateTimeOffset momentUtc, DateTimeOffset otherUtc, ShopConfig shop)
    {
        var local = Local(momentUtc, shop);
        return local.Date == Local(otherUtc, shop).Date
            ? local.ToString("HH:mm", CultureInfo.InvariantCulture)
            : Text(momentUtc, shop);
    }

    private static DateTimeOffset Local(DateTimeOffset momentUtc, ShopConfig shop) =>
        TimeZoneInfo.ConvertTime(momentUtc, TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone));
}
