using SetupAudit.Store;

namespace SetupAudit.People;

public sealed class SignInDelayTests
{
    private static readonly DateTimeOffset Last = new(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("wwww", null)]
    [InlineData("wwwww", 30)]
    [InlineData("wwwwww", 60)]
    [InlineData("wwwwwww", 120)]
    [InlineData("wwwwwwwwwwwwwwwwwwww", 3600)]
    [InlineData("rwwwwwww", null)]
    [InlineData("wwwwwrww", 30)]
    public void Five_wrong_in_a_row_wait_and_each_further_one_doubles_it(string newestFirst, int? seconds)
    {
        var tries = newestFirst.Select((outcome, back) => new StoredSignIn(
            $"{back}", Last.AddMinutes(-back), "person", outcome == 'w' ? SignInOutcome.Wrong : SignInOutcome.Right,
            "review", "shop")).ToList();
        Assert.Equal(seconds is { } wait ? Last.AddSeconds(wait) : null as DateTimeOffset?, SignInDelay.Until(tries));
    }
}
