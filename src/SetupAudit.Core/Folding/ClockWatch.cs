using System.Globalization;
using SetupAudit.Findings;
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

    /// <summary>The skew after a sighting; the same as before where its times cannot be compared.</summary>
    public static ClockSkew? Compare(ClockSkew? before, Sighting sighting)
    {
        if (sighting.ShareUtc is not { } shareUtc || Own(sighting) is not { } ownUtc) return before;
        var skew = shareUtc - ownUtc;
        if (IsOff(skew)) return Going(before, Says(sighting, skew), sighting);
        return skew.Duration() <= Agreed ? null : before;
    }

    private static DateTimeOffset? Own(Sighting sighting) =>
        sighting.Print?.AtUtc ?? (sighting.Stream is { WrittenHere: true } written ? written.AtUtc : null);

    /// <summary>
    /// What the file's own time showed when it was taken in; over with the next arrival whose time shows nothing.
    /// </summary>
    public static ClockSkew? OfFile(ClockSkew? before, Sighting sighting)
    {
        if (sighting.Clock is { } says) return Going(before, says, sighting);
        return before?.Last.File == sighting.File && before.Last.Sha256 == sighting.Sha256 ? before : null;
    }

    private static ClockSkew Going(ClockSkew? before, string says, Sighting sighting) =>
        new(says, before?.SinceUtc ?? sighting.AtUtc, sighting.At(Math.Max(0, sighting.Line)));

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
