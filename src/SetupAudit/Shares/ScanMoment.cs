namespace SetupAudit.Shares;

/// <summary>
/// When a scan takes place. What is seen for the first time counts from the end of the listing, what has been seen
/// before is old enough only as of its start: so a slow listing never makes a file look settled.
/// </summary>
/// <param name="IsFirst">No listing was whole before: what is old by its own time needs no watching.</param>
internal sealed record ScanMoment(
    int Number, DateTime StartedUtc, long StartedAt, long ListedAt, bool IsFirst, TimeProvider Time)
{
    /// <summary>How long ago, by our own clock; never negative.</summary>
    public TimeSpan Since(long timestamp) =>
        timestamp >= StartedAt ? TimeSpan.Zero : Time.GetElapsedTime(timestamp, StartedAt);

    /// <summary>By the file's own time: only believed at first sight, and only when it is not in the future.</summary>
    public bool IsOld(FileStamp stamp, TimeSpan age) => IsFirst && StartedUtc - stamp.ModifiedUtc >= age;
}
