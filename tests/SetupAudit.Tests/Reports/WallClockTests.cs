using SetupAudit.Shop;

namespace SetupAudit.Reports;

public sealed class WallClockTests
{
    [Theory]
    [InlineData("2026-03-02T07:10:04Z", "2026-03-02 07:10:04")]
    [InlineData("2026-07-02T07:10:04Z", "2026-07-02 08:10:04")]
    [InlineData("2026-07-02T07:10:04.25Z", "2026-07-02 08:10:04.25")]
    // The change of 25 October 2026 at 01:00 UTC (the zone's rules in the IANA data).
    [InlineData("2026-10-25T00:30:00Z", "2026-10-25 01:30:00 (+01:00)")]
    [InlineData("2026-10-25T01:30:00Z", "2026-10-25 01:30:00 (+00:00)")]
    [InlineData("2026-10-25T02:30:00Z", "2026-10-25 02:30:00")]
    public void A_moment_is_what_the_shops_clock_showed(string utc, string shown)
    {
        var clock = new WallClock(new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Machines = [],
            Store = new StoreConfig("audit", null),
        });

        Assert.Equal(shown, clock.Time(DateTimeOffset.Parse(utc, System.Globalization.CultureInfo.InvariantCulture)));
        Assert.StartsWith("Times are those of Europe/London", clock.Sentence, StringComparison.Ordinal);
    }
}
