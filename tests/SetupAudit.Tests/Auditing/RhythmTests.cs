using SetupAudit.Support;

namespace SetupAudit.Auditing;

public sealed class RhythmTests
{
    [Theory]
    [InlineData(0, 2000)]
    [InlineData(1, 1999)]
    [InlineData(1250, 750)]
    [InlineData(1989, 11)]
    [InlineData(1995, 2005)]
    [InlineData(2000, 2000)]
    [InlineData(86_400_700, 1300)]
    public void The_next_look_is_at_a_whole_multiple_and_never_at_once_again(int nowMilliseconds, int leftMilliseconds)
    {
        var clock = new HandClock("2026-03-02T07:00:00Z");
        clock.Advance(TimeSpan.FromMilliseconds(nowMilliseconds));

        Assert.Equal(TimeSpan.FromMilliseconds(leftMilliseconds), Rhythm.Next(clock, TimeSpan.FromSeconds(2)));
    }
}
