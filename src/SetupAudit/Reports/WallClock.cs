using System.Globalization;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>
/// Moments as a clock on the shop's wall shows them, to the second, or to the thousandth where that is known.
/// </summary>
public sealed class WallClock(ShopConfig shop)
{
    private const string Format = "yyyy-MM-dd HH:mm:ss.FFF";

    private readonly TimeZoneInfo _zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);

    /// <summary>Says whose times they are.</summary>
    public string Times => $"Times are those of {shop.TimeZone}.";

    /// <summary>The same, and where others have theirs.</summary>
    public string Sentence => $"Times are those of {shop.TimeZone}; --json has UTC.";

    /// <summary>In an hour that the autumn change gives twice, with the offset that tells which of the two.</summary>
    public string Time(DateTimeOffset moment)
    {
        var local = TimeZoneInfo.ConvertTime(moment, _zone);
        var text = local.ToString(Format, CultureInfo.InvariantCulture);
        return _zone.IsAmbiguousTime(local) ? text + local.ToString(" (zzz)", CultureInfo.InvariantCulture) : text;
    }
}
