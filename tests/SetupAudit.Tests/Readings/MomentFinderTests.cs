using System.Text;
using CsCheck;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Readings;

public sealed class MomentFinderTests
{
    private static readonly MachineConfig Mill = new() { Name = "mill-3", Kind = MachineKind.Mill, Units = Unit.Millimetre };
    private static readonly DateTimeOffset Modified = Some.MomentUtc();
    private static readonly DateTimeOffset Summer = new(2026, 7, 2, 6, 10, 0, TimeSpan.Zero);

    [Fact]
    public void The_files_time_is_the_usual_moment() =>
        Assert.Equal(new Moment(Modified, TimeFrom.File, null), Finder(TimeFrom.File, null, null).Find("O1.nc", [], Modified));

    [Fact]
    public void A_time_in_the_name_is_in_the_shops_zone()
    {
        var finder = Finder(TimeFrom.Name, @"(?<time>\d{8}-\d{6})", "yyyyMMdd-HHmmss");
        Assert.Equal(new Moment(Summer, TimeFrom.Name, null), finder.Find("dump-20260702-071000.nc", [], Modified));
    }

    [Fact]
    public void A_folder_below_the_watched_one_is_part_of_the_name()
    {
        var finder = Finder(TimeFrom.Name, "^(?<time>[0-9/]+)", "yyyyMMdd/HHmmss");
        Assert.Equal(Summer, finder.Find("20260702/071000.nc", [], Modified).AtUtc);
    }

    [Fact]
    public void The_machines_clock_is_put_right()
    {
        var machine = Mill with { ClockOffset = TimeSpan.FromMinutes(10) };
        var finder = Finder(TimeFrom.Name, @"(?<time>\d{8}-\d{6})", "yyyyMMdd-HHmmss", machine);
        Assert.Equal(Summer.AddMinutes(-10), finder.Find("20260702-071000.nc", [], Modified).AtUtc);
    }

    [Theory]
    [InlineData("%\r\n(SAVED 2026-07-02 07:10)\r\nG10 L2\r\n")]
    [InlineData("%\n(SAVED 2026-07-02 07:10)\n")]
    [InlineData("%\r(SAVED 2026-07-02 07:10)\r")]
    public void A_time_in_the_text_stands_on_a_line_of_its_own_whatever_ends_lines(string text)
    {
        var finder = Finder(TimeFrom.Text, @"^\(SAVED (?<time>.*)\)$", "yyyy-MM-dd HH:mm");
        Assert.Equal(new Moment(Summer, TimeFrom.Text, null), finder.Find("a", Encoding.UTF8.GetBytes(text), Modified));
        Assert.Equal(Summer, finder.Find("a", [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(text)], Modified).AtUtc);
    }

    [Fact]
    public void Beyond_the_first_64_kilobytes_nothing_is_looked_for()
    {
        var finder = Finder(TimeFrom.Text, "SAVED (?<time>.*)", "yyyy-MM-dd HH:mm");
        var text = new string(' ', MomentFinder.TextMostBytes) + "SAVED 2026-07-02 07:10";
        var moment = finder.Find("a", Encoding.UTF8.GetBytes(text), Modified);
        Assert.Equal(new Moment(Modified, TimeFrom.File, "no time in its text; taken from the file's time"), moment);
    }

    [Fact]
    public void A_name_without_a_time_has_the_files_time_and_says_why()
    {
        var finder = Finder(TimeFrom.Name, @"(?<time>\d{8}-\d{6})", "yyyyMMdd-HHmmss");
        Assert.Equal(
            new Moment(Modified, TimeFrom.File, "no time in its name; taken from the file's time"),
            finder.Find("dump.nc", [], Modified));
        Assert.Equal(
            new Moment(Modified, TimeFrom.File,
                "the time \"20269999-071000\" in its name is not written as yyyyMMdd-HHmmss; taken from the file's time"),
            finder.Find("dump-20269999-071000.nc", [], Modified));
    }

    [Fact]
    public void A_time_with_its_own_offset_needs_no_zone()
    {
        var finder = Finder(TimeFrom.Name, "(?<time>.*).nc", "yyyy-MM-dd'T'HHmmzzz");
        Assert.Equal(Summer, finder.Find("2026-07-02T0810+02:00.nc", [], Modified).AtUtc);
    }

    [Fact]
    public void No_bytes_make_it_throw()
    {
        var finder = Finder(TimeFrom.Text, "(?<time>.*)", "yyyy-MM-dd HH:mm");
        Gen.Byte.Array[0, 100].Sample(bytes => { _ = finder.Find("a", bytes, Modified); });
    }

    private static MomentFinder Finder(TimeFrom from, string? pattern, string? format, MachineConfig? machine = null) => new(
        new WatchConfig
        {
            Index = 0,
            Folder = "dumps",
            FullFolder = "/dumps",
            Files = "*",
            Read = SourceKind.DataSetting,
            Time = from,
            TimePattern = pattern,
            TimeFormat = format,
        },
        machine ?? Mill,
        new ShopClock(new ShopConfig
        {
            Name = "Harrow Lane Works",
            TimeZone = "Europe/London",
            Store = new StoreConfig("", null),
            Machines = [Mill],
        }));
}
