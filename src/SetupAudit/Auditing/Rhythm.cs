namespace SetupAudit.Auditing;

/// <summary>
/// When to look again, for loops that look now and then: all at the same moments, so that a machine which has nothing
/// to do is woken once for all of them.
/// </summary>
public static class Rhythm
{
    // A timer may fire a little before its time; that was this look, not the one before it.
    private static readonly TimeSpan Early = TimeSpan.FromMilliseconds(10);

    /// <summary>How long it is until the clock next shows a whole multiple of a time.</summary>
    public static TimeSpan Next(TimeProvider clock, TimeSpan every)
    {
        ArgumentNullException.ThrowIfNull(clock);
        // In whole milliseconds, as timers count.
        var now = clock.GetTimestamp() / (clock.TimestampFrequency / 1000);
        var left = every - TimeSpan.FromMilliseconds(now % (long)every.TotalMilliseconds);
        return left > Early ? left : left + every;
    }
}
