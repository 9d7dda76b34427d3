using SetupAudit.Findings.Support;

namespace SetupAudit.Findings;

public sealed class ShopTimeTests
{
    private static readonly Shop.ShopConfig Harrow = new CaseBuilder().Build().Shop;

    [Fact]
    public void A_moment_is_told_on_the_shops_clock() =>
        Assert.Equal("2026-07-01 00:30", ShopTime.Text(new DateTimeOffset(2026, 6, 30, 23, 30, 0, TimeSpan.Zero), Harrow));

    [Fact]
    public void The_day_is_left_out_where_it_is_the_same()
    {
        Assert.Equal("07:14", ShopTime.Near(When.At("07:14"), When.At("23:59"), Harrow));
        Assert.Equal("2026-03-01 07:14", ShopTime.Near(When.At("03-01 07:14"), When.At("00:01"), Harrow));
    }
}
