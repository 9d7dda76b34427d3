using System.Globalization;

namespace SetupAudit.Shop;

/// <summary>
/// The shop's and the machines' clocks. A local time that the autumn change gives twice is taken as the earlier of the
/// two; one that the spring change leaves out is moved forward, as a clock that was not set yet would read it.
/// </summary>
public sealed class ShopClock
{
    private static readonly TimeSpan Step = TimeSpan.FromMinutes(30);

    private static readonly string[] Days = ["yyyy-MM-dd", "yyyyMMdd"];

    private static readonly string[] Moments =
    [
        "yyyy-MM-dd'T'HH:mm", "yyyy-MM-dd'T'HH:mm:ss", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFF", "yyyyMMdd'T'HHmm",
        "yyyyMMdd'T'HHmmss", "yyyyMMdd'T'HHmmss.FFFFFFF",
    ];

    private readonly TimeZoneInfo _shop;
    private readonly Dictionary<string, TimeZoneInfo> _zones = new(StringComparer.Ordinal);

    /// <summary>Throws where a time zone does not exist: the configuration has been checked.</summary>
    public ShopClock(ShopConfig shop)
    {
        ArgumentNullException.ThrowIfNull(shop);
        _shop = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        foreach (var zone in shop.Machines.Select(machine => machine.TimeZone).OfType<string>().Distinct())
            _zones[zone] = TimeZoneInfo.FindSystemTimeZoneById(zone);
    }

    /// <summary>
    /// The moment at which a machine's clock read this: by the machine's zone or else the shop's, less what its clock
    /// is
    /// ahead. Does not throw.
    /// </summary>
    public DateTimeOffset ToUtc(DateTime local, MachineConfig machine) => Less(ToUtc(local, ZoneOf(machine)), machine);

    /// <summary>A time that a machine wrote with its offset from UTC: only its clock is put right.</summary>
    public static DateTimeOffset PutRight(DateTimeOffset written, MachineConfig machine) =>
        Less(written.ToUniversalTime(), machine);

    /// <summary>Whether the machine's clock reads this twice, an hour apart, on an autumn night.</summary>
    public bool IsAmbiguous(DateTime local, MachineConfig machine) =>
        ZoneOf(machine).IsAmbiguousTime(DateTime.SpecifyKind(local, DateTimeKind.Unspecified));

    /// <summary>The moment as the shop's clock shows it.</summary>
    public DateTimeOffset InShop(DateTimeOffset utc) => TimeZoneInfo.ConvertTime(utc, _shop);

    /// <summary>
    /// Reads a moment that a person gives: ISO 8601, a day or a day with a time, in the shop's zone where it has no
    /// offset. Null where it is none; does not throw.
    /// </summary>
    public DateTimeOffset? ParseMoment(string? text)
    {
        var (moment, offset) = SplitOffset((text ?? "").Trim());
        if (!TryRead(moment, out var local)) return null;
        if (offset is null) return ToUtc(local, _shop);
        return TryOffset(offset, out var span) && IsInRange(local, span)
            ? new DateTimeOffset(local, span).ToUniversalTime()
            : null;
    }

    private TimeZoneInfo ZoneOf(MachineConfig machine) =>
        machine.TimeZone is null ? _shop
        : _zones.TryGetValue(machine.TimeZone, out var zone) ? zone
        : TimeZoneInfo.FindSystemTimeZoneById(machine.TimeZone);

    private static DateTimeOffset ToUtc(DateTime local, TimeZoneInfo zone)
    {
        local = DateTime.SpecifyKind(local, DateTimeKind.Unspecified);
        var offset = zone.IsAmbiguousTime(local)
            ? zone.GetAmbiguousTimeOffsets(local).Max()
            : OffsetBefore(local, zone);
        return IsInRange(local, offset)
            ? new DateTimeOffset(local, offset).ToUniversalTime()
            : new DateTimeOffset(local, TimeSpan.Zero);
    }

    // Within the hour that is left out, the offset of the last time before it holds. IsInvalidTime does not know a day
    // that a country left out; that a moment is shown as the time it was made from tells every gap.
    private static TimeSpan OffsetBefore(DateTime local, TimeZoneInfo zone)
    {
        var offset = zone.GetUtcOffset(local);
        for (var before = local; IsInRange(before, offset); before -= Step, offset = zone.GetUtcOffset(before))
            if (zone.GetUtcOffset(new DateTimeOffset(before, offset)) == offset) break;
        return offset;
    }

    private static DateTimeOffset Less(DateTimeOffset utc, MachineConfig machine)
    {
        var ticks = (decimal)utc.Ticks - machine.ClockOffset.Ticks;
        return ticks >= DateTimeOffset.MinValue.Ticks && ticks <= DateTimeOffset.MaxValue.Ticks
            ? utc - machine.ClockOffset
            : utc;
    }

    private static bool IsInRange(DateTime local, TimeSpan offset)
    {
        var ticks = local.Ticks - offset.Ticks;
        return ticks >= DateTime.MinValue.Ticks && ticks <= DateTime.MaxValue.Ticks;
    }

    private static (string Moment, string? Offset) SplitOffset(string text)
    {
        if (text.EndsWith('Z') || text.EndsWith('z')) return (text[..^1], "+00");
        var time = text.IndexOfAny(['T', 't', ' ']);
        var sign = time < 0 ? -1 : text.IndexOfAny(['+', '-'], time);
        return sign < 0 ? (text, null) : (text[..sign], text[sign..]);
    }

    private static bool TryRead(string text, out DateTime local)
    {
        // A blank is what people type for the T; a comma is what ISO 8601 prefers before parts of a second.
        var plain = text.Replace(' ', 'T').Replace('t', 'T').Replace(',', '.');
        return DateTime.TryParseExact(plain, Moments, CultureInfo.InvariantCulture, DateTimeStyles.None, out local)
            || DateTime.TryParseExact(plain, Days, CultureInfo.InvariantCulture, DateTimeStyles.None, out local);
    }

    private static bool TryOffset(string text, out TimeSpan offset)
    {
        string[] formats = ["hh", "hhmm", "hh\\:mm"];
        var isRead = TimeSpan.TryParseExact(text[1..], formats, CultureInfo.InvariantCulture, out offset);
        if (text[0] == '-') offset = -offset;
        return isRead && offset.Duration() <= TimeSpan.FromHours(14);
    }
}
