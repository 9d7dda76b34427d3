using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>
/// When each line of a piece of a print-out was printed. A line with a time of its own was printed then; any other lies
/// between its neighbours in the file that have one, else between two sightings of the file.
/// </summary>
internal static class LineMoments
{
    /// <summary>In the order of the lines: not later than the first, not earlier than the second.</summary>
    public static IReadOnlyList<(DateTimeOffset AtUtc, DateTimeOffset EarliestUtc)> Of(
        IReadOnlyList<PrintLine> lines, DateTimeOffset? previousUtc, DateTimeOffset momentUtc)
    {
        var places = new (DateTimeOffset AtUtc, DateTimeOffset EarliestUtc)[lines.Count];
        // A machine whose clock is ahead of the share's prints later than its file says.
        var after = lines.Max(line => line.AtUtc) is { } last && last > momentUtc ? last : momentUtc;
        for (var index = lines.Count - 1; index >= 0; index--)
        {
            after = lines[index].AtUtc ?? after;
            places[index].AtUtc = after;
        }
        var before = previousUtc ?? momentUtc;
        for (var index = 0; index < lines.Count; index++)
        {
            before = lines[index].AtUtc ?? before;
            places[index].EarliestUtc = before < places[index].AtUtc ? before : places[index].AtUtc;
        }
        return places;
    }
}
