namespace SetupAudit.Shares;

/// <summary>
/// Lets a thread wait by the clock it is given, until the time is over, it is poked, or all is cancelled.
/// </summary>
internal sealed class Alarm(TimeProvider time) : IDisposable
{
    private readonly AutoResetEvent _ring = new(initialState: false);

    public void Poke()
    {
        try
        {
            _ring.Set();
        }
        catch (ObjectDisposedException)
        {
            // A timer or a change notification that was under way when the watch ended.
        }
    }

    /// <summary>False when it was poked before the time was over; throws when cancelled.</summary>
    public bool Wait(TimeSpan delay, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        if (time == TimeProvider.System)
        {
            // The system waits by itself: no timer, and no thread of the pool that would have to wake to ring it.
            var rung = WaitHandle.WaitAny([_ring, cancel.WaitHandle], delay);
            cancel.ThrowIfCancellationRequested();
            return rung == WaitHandle.WaitTimeout;
        }

        var from = time.GetTimestamp();
        using var timer = time.CreateTimer(_ => Poke(), null, delay, Timeout.InfiniteTimeSpan);
        WaitHandle.WaitAny([_ring, cancel.WaitHandle]);
        cancel.ThrowIfCancellationRequested();
        return time.GetElapsedTime(from) >= delay;
    }

    public void Dispose() => _ring.Dispose();
}
