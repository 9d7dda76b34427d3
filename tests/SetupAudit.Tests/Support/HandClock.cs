using System.Globalization;

namespace SetupAudit.Support;

/// <summary>
/// A clock that only moves when a test moves it. Timers ring during <c>Advance</c>, in order, on the thread
/// that advances.
/// </summary>
public sealed class HandClock : TimeProvider
{
    private readonly Lock _lock = new();
    private readonly List<HandTimer> _timers = [];
    private DateTimeOffset _now;

    public HandClock(string now = "2026-03-02T07:00:00Z") =>
        _now = DateTimeOffset.Parse(now, CultureInfo.InvariantCulture);

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <summary>How many timers are set: a thread that waits by this clock has one.</summary>
    public int Timers
    {
        get
        {
            lock (_lock) return _timers.Count(timer => timer.IsSet);
        }
    }

    public override DateTimeOffset GetUtcNow()
    {
        lock (_lock) return _now;
    }

    public override long GetTimestamp()
    {
        lock (_lock) return _now.UtcTicks;
    }

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new HandTimer(this, callback, state);
        lock (_lock) _timers.Add(timer);
        timer.Change(dueTime, period);
        return timer;
    }

    public void Advance(double seconds) => Advance(TimeSpan.FromSeconds(seconds));

    public void Advance(TimeSpan by)
    {
        var until = GetUtcNow() + by;
        while (NextDue(until) is { } timer) timer.Ring();
        lock (_lock) _now = until;
    }

    private HandTimer? NextDue(DateTimeOffset until)
    {
        lock (_lock)
        {
            var next = _timers.Where(timer => timer.IsSet && timer.DueUtc <= until).MinBy(timer => timer.DueUtc);
            if (next is not null && next.DueUtc > _now) _now = next.DueUtc;
            next?.SetNext();
            return next;
        }
    }

    private sealed class HandTimer(HandClock clock, TimerCallback callback, object? state) : ITimer
    {
        private TimeSpan _period = Timeout.InfiniteTimeSpan;

        public bool IsSet { get; private set; }

        public DateTimeOffset DueUtc { get; private set; }

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            lock (clock._lock)
            {
                IsSet = dueTime != Timeout.InfiniteTimeSpan;
                if (IsSet) DueUtc = clock._now + dueTime;
                _period = period;
            }

            return true;
        }

        public void SetNext()
        {
            IsSet = _period > TimeSpan.Zero;
            if (IsSet) DueUtc += _period;
        }

        public void Ring() => callback(state);

        public void Dispose()
        {
            lock (clock._lock)
            {
                IsSet = false;
                clock._timers.Remove(this);
            }
        }

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
