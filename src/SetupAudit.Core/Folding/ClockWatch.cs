using System.Collections.Immutable;
using System.Globalization;
using SetupAudit.Readings;

namespace SetupAudit.Folding;

/// <summary>Compares the time a source writes with the share's time of the same file, and says when the two clocks
/// disagree.</summary>
internal static class ClockWatch
{
    private static readonly TimeSpan Agreed = TimeSpan.FromMinutes(5);

    // A file copied later has a later time and that is no clock's fault; a clock that missed a change of the hour or
    // sits in
    // another zone is off by whole half hours, within a day.
    private static readonly TimeSpan Most = TimeSpan.FromHours(14);
    private static readonly TimeSpan Step = TimeSpan.FromMinutes(30);
    private static readonly TimeSpan Near = TimeSpan.FromMinutes(3);

    /// <summary>The skews after a sighting whose file time may be compared with its own.</summary>
    public static ImmutableSortedDictionary<int,
        string> Compare(ImmutableSortedDictionary<int, string> skews, Sighting sighting)
    {
        if (sighting.ShareUtc is not { } shareUtc || sighting.Print?.AtUtc is not { } ownUtc) return skews;
        var skew = shareUtc - ownUtc;
        return IsOff(skew)
            ? skews.SetItem(sighting.Source, Says(sighting, skew))
            : skew.Duration() <= Agreed ? skews.Remove(sighting.Source) : skews;
    }

    private static bool IsOff(TimeSpan skew)
    {
        if (skew.Duration() <= Agreed || skew.Duration() > Most) return false;
        if (skew < TimeSpan.Zero) return true;
        var rest = TimeSpan.FromTicks(skew.Ticks % Step.Ticks);
        return rest <= Near || Step - rest <= Near;
    }

    private static string Says(Sighting sighting, TimeSpan skew)
    {
        var minutes = Math.Abs(Math.Round(skew.TotalMinutes)).ToString("0", CultureInfo.InvariantCulture);
        var way = skew > TimeSpan.Zero ? "behind" : "ahead of";
        return $"the times in {sighting.File} are {minutes} min {way} the share's clock";
    }
}
