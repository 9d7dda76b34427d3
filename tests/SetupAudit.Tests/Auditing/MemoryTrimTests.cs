using SetupAudit.Support;

namespace SetupAudit.Auditing;

public sealed class MemoryTrimTests
{
    private readonly HandClock _clock = new();

    [Fact]
    public void What_a_start_leaves_is_given_back_at_once_after_a_minute_and_after_three()
    {
        var trim = new MemoryTrim(_clock);

        Assert.Equal([1, 1, 2, 2, 3, 3], Times(trim, 0, 59, 1, 119, 1, 3600));
    }

    [Fact]
    public void Many_arrivals_begin_it_anew_and_few_do_not()
    {
        var trim = new MemoryTrim(_clock);
        Times(trim, 0, 60, 120);

        trim.Read(999);
        var afterFew = Times(trim, 60);
        trim.Read(1);
        var afterMany = Times(trim, 0, 60, 120, 60);

        Assert.Equal([3], afterFew);
        Assert.Equal([4, 5, 6, 6], afterMany);
    }

    // How often it has trimmed by each quiet moment, so many seconds after the last.
    private int[] Times(MemoryTrim trim, params int[] seconds) =>
    [
        .. seconds.Select(later =>
        {
            _clock.Advance(TimeSpan.FromSeconds(later));
            trim.Quiet();
            return trim.Times;
        }),
    ];
}
