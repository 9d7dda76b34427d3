using CsCheck;
using SetupAudit.Units;

namespace SetupAudit.Shop;

public sealed class ShopClockTests
{
    private static readonly MachineConfig Mill = new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };
    private static readonly MachineConfig FarMill = Mill with { Name = "mill-9", TimeZone = "America/New_York" };
    private static readonly ShopClock Clock = new(ShopIn("Europe/London", FarMill));

    [Theory]
    [InlineData("2026-03-02 07:10:00", "2026-03-02 07:10:00")]
    [InlineData("2026-07-02 07:10:00", "2026-07-02 06:10:00")]
    public void A_local_time_is_read_in_the_shops_zone(string local, string utc) =>
        Assert.Equal(Utc(utc), Clock.ToUtc(Local(local), Mill));

    [Fact]
    public void A_machines_own_zone_wins() =>
        Assert.Equal(Utc("2026-03-02 12:10:00"), Clock.ToUtc(Local("2026-03-02 07:10:00"), FarMill));

    [Theory]
    [InlineData("00:02:30", "2026-03-02 07:07:30")]
    [InlineData("-00:02:30", "2026-03-02 07:12:30")]
    public void A_clock_that_is_ahead_showed_the_time_too_early(string ahead, string utc)
    {
        var machine = Mill with { ClockOffset = TimeSpan.Parse(ahead) };
        Assert.Equal(Utc(utc), Clock.ToUtc(Local("2026-03-02 07:10:00"), machine));
        var written = new DateTimeOffset(2026, 3, 2, 8, 10, 0, TimeSpan.FromHours(1));
        Assert.Equal(Utc(utc), ShopClock.PutRight(written, machine));
    }

    // London, from the time zone database: 25 October 2026 02:00 BST goes back to 01:00 GMT.
    [Fact]
    public void An_hour_that_comes_twice_is_taken_as_the_earlier_one()
    {
        Assert.True(Clock.IsAmbiguous(Local("2026-10-25 01:30:00"), Mill));
        Assert.Equal(Utc("2026-10-25 00:30:00"), Clock.ToUtc(Local("2026-10-25 01:30:00"), Mill));
        Assert.False(Clock.IsAmbiguous(Local("2026-10-25 02:30:00"), Mill));
        Assert.Equal(Utc("2026-10-25 02:30:00"), Clock.ToUtc(Local("2026-10-25 02:30:00"), Mill));
    }

    // London, from the time zone database: 29 March 2026 01:00 GMT goes forward to 02:00 BST.
    [Fact]
    public void An_hour_that_is_left_out_is_moved_forward()
    {
        Assert.Equal(Utc("2026-03-29 01:30:00"), Clock.ToUtc(Local("2026-03-29 01:30:00"), Mill));
        Assert.Equal(Utc("2026-03-29 01:30:00"), Clock.ToUtc(Local("2026-03-29 02:30:00"), Mill));
    }

    // From the time zone database: Samoa had no 30 December 2011; Lord Howe Island's clocks move by half an hour.
    [Theory]
    [InlineData("Pacific/Apia", "2011-12-30 12:00:00", "2011-12-30 22:00:00")]
    [InlineData("Australia/Lord_Howe", "2026-10-04 02:15:00", "2026-10-03 15:45:00")]
    public void Odd_gaps_are_moved_forward_too(string zone, string local, string utc) =>
        Assert.Equal(Utc(utc), new ShopClock(ShopIn(zone)).ToUtc(Local(local), Mill));

    [Fact]
    public void The_shop_is_shown_its_own_time()
    {
        var shown = Clock.InShop(Utc("2026-07-02 06:10:00"));
        Assert.Equal("2026-07-02 07:10:00 +01:00", shown.ToString("yyyy-MM-dd HH:mm:ss zzz"));
    }

    [Theory]
    [InlineData("2026-07-02", "2026-07-01 23:00:00")]
    [InlineData("20260302", "2026-03-02 00:00:00")]
    [InlineData("2026-07-02T07:10", "2026-07-02 06:10:00")]
    [InlineData(" 2026-07-02 07:10:30 ", "2026-07-02 06:10:30")]
    [InlineData("20260702T071030", "2026-07-02 06:10:30")]
    [InlineData("2026-07-02T07:10:30Z", "2026-07-02 07:10:30")]
    [InlineData("2026-07-02T07:10:30.000+02:00", "2026-07-02 05:10:30")]
    [InlineData("20260702T0710-0500", "2026-07-02 12:10:00")]
    [InlineData("2026-07-02 07:10-05", "2026-07-02 12:10:00")]
    public void A_moment_is_iso_8601_in_the_shops_zone_unless_it_says_otherwise(string text, string utc) =>
        Assert.Equal(Utc(utc), Clock.ParseMoment(text));

    [Fact]
    public void Parts_of_a_second_may_follow_a_comma() =>
        Assert.Equal(Utc("2026-03-02 07:10:30").AddMilliseconds(250), Clock.ParseMoment("2026-03-02T07:10:30,25"));

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("yesterday")]
    [InlineData("02/03/2026")]
    [InlineData("2026-02-30")]
    [InlineData("2026-03-02T25:00")]
    [InlineData("2026-03-02T07:10+15:00")]
    [InlineData("2026-03-02T07:10+")]
    [InlineData("0001-01-01T00:00+14:00")]
    [InlineData("2026-03-02Z07:10")]
    public void What_is_no_moment_is_none(string? text) => Assert.Null(Clock.ParseMoment(text));

    [Fact]
    public void The_first_and_last_moments_there_are_do_not_throw()
    {
        var machine = FarMill with { ClockOffset = TimeSpan.FromDays(-400) };
        Assert.Equal(DateTime.MaxValue, Clock.ToUtc(DateTime.MaxValue, machine).UtcDateTime);
        Assert.Equal(DateTime.MinValue, new ShopClock(ShopIn("Asia/Tokyo")).ToUtc(DateTime.MinValue, Mill).UtcDateTime);
    }

    [Fact]
    public void No_text_makes_it_throw() =>
        Gen.String[Gen.Char["0123456789-+:.,TZtz /"], 0, 32].Sample(text => { _ = Clock.ParseMoment(text); });

    private static ShopConfig ShopIn(string zone, params MachineConfig[] machines) => new()
    {
        Name = "Harrow Lane Works",
        TimeZone = zone,
        Store = new StoreConfig("", null),
        Machines = machines,
    };

    private static DateTime Local(string text) => DateTime.ParseExact(text, "yyyy-MM-dd HH:mm:ss", null);

    private static DateTimeOffset Utc(string text) => new(Local(text), TimeSpan.Zero);
}
