using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Says what is wrong with a file's time: later than this program's clock when it was taken in, or gone backwards
/// while the file grew. A clock that is behind cannot be told from a file that was copied with its time.
/// </summary>
internal static class ClockNote
{
    // Clocks that are kept by a time server agree within seconds; a file system may round up two.
    private static readonly TimeSpan Agreed = TimeSpan.FromMinutes(2);

    /// <summary>A sighting of its own, before the others of the arrival; none where nothing is wrong.</summary>
    public static IEnumerable<StoredSighting> Of(StoredArrival stored, WatchConfig watch, DateTimeOffset momentUtc)
    {
        if (Says(stored.Arrival) is not { } says) yield break;
        yield return ArrivalReader.Sighting(stored, watch, momentUtc, -1) with
        {
            Body = ReadingText.Text(new SightingBody { Clock = says }),
        };
    }

    private static string? Says(Arrival arrival)
    {
        var ahead = arrival.ModifiedUtc - arrival.ReceivedUtc;
        if (ahead > Agreed)
            return $"the time of {arrival.File} was {Minutes(ahead)} later than this computer's clock when it was "
                + "taken in";
        var back = arrival.OffsetBytes > 0 ? arrival.PreviousUtc - arrival.ModifiedUtc : null;
        return back > Agreed ? $"the time of {arrival.File} went back by {Minutes(back.Value)} while it grew" : null;
    }

    private static string Minutes(TimeSpan span) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Round(span.TotalMinutes):0} min");
}
