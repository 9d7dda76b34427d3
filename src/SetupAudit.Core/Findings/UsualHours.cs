using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// In which hours of the week a source usually writes, and how surprising a silence is: each hour in which it should
/// have written and did not weighs as much as it was sure to. Nights and free days weigh nothing, so nobody has to
/// tell the program the shifts.
/// </summary>
internal sealed class UsualHours
{
    private const int HoursOfWeek = 7 * 24;

    // A silence that a source which writes as usual shows once in a thousand times.
    private static readonly double Surprise = Math.Log(1000);

    private readonly TimeZoneInfo _zone;
    private readonly int[] _covered = new int[HoursOfWeek];
    private readonly int[] _written = new int[HoursOfWeek];

    public UsualHours(SourceBeat beat, ShopConfig shop)
    {
        _zone = TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone);
        var last = beat.Hours[^1];
        var first = Math.Max(SourceBeat.HourOf(beat.FirstUtc), last - SourceBeat.HoursKept + 1);
        for (var hour = first; hour <= last; hour++) _covered[SlotOf(hour)]++;
        foreach (var hour in beat.Hours.Where(hour => hour >= first)) _written[SlotOf(hour)]++;
        Days = beat.Hours.Select(hour => Local(hour).Date).Distinct().Count();
    }

    /// <summary>On how many days of the shop it wrote.</summary>
    public int Days { get; }

    /// <summary>
    /// When a silence that began after an hour had become too surprising, and how many hours in which it mostly writes
    /// had passed by then; null where it had not before the horizon.
    /// </summary>
    public (DateTimeOffset AtUtc, int Hours)? SilentFrom(int lastHour, DateTimeOffset horizonUtc)
    {
        var (weight, hours) = (0.0, 0);
        // What is not silent after eight weeks has no usual hours.
        for (var hour = lastHour + 1; hour <= lastHour + (2 * SourceBeat.HoursKept); hour++)
        {
            var endUtc = DateTimeOffset.FromUnixTimeSeconds((hour + 1L) * 3600);
            if (endUtc > horizonUtc) return null;
            var slot = SlotOf(hour);
            // One more than was seen: of few weeks nobody is sure.
            weight -= Math.Log(1 - (_written[slot] / (_covered[slot] + 1.0)));
            if (_written[slot] * 2 > _covered[slot]) hours++;
            if (weight >= Surprise) return (endUtc, hours);
        }

        return null;
    }

    private int SlotOf(int hour)
    {
        var local = Local(hour);
        return ((int)local.DayOfWeek * 24) + local.Hour;
    }

    private DateTimeOffset Local(int hour) =>
        TimeZoneInfo.ConvertTime(DateTimeOffset.FromUnixTimeSeconds(hour * 3600L), _zone);
}
