using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class SilentSourceTests
{
    // A Monday in winter: Europe/London is UTC.
    private static readonly DateTimeOffset Monday = new(2026, 1, 5, 0, 0, 0, TimeSpan.Zero);

    private static readonly ShopConfig Shop = new()
    {
        Name = "Harrow Lane Works (made up)",
        TimeZone = "Europe/London",
        Store = new StoreConfig("audit", null),
        Machines = [],
    };

    [Fact]
    public void A_source_that_stops_in_its_usual_hours_is_told_with_its_interval_and_its_silence()
    {
        var beat = Working(weeks: 4, until: Monday.AddDays(28).AddHours(10.2));

        var finding = Judge(beat, Monday.AddDays(40));

        Assert.NotNull(finding);
        Assert.Equal("mill-3@20260202-160000/silent-source/shares-mill-3-offsets", finding.Id);
        Assert.Equal(new DateTimeOffset(2026, 2, 2, 16, 0, 0, TimeSpan.Zero), finding.AtUtc);
        Assert.Equal(Severity.Low, finding.Severity);
        Assert.Null(finding.Setup);
        Assert.Equal([new SourceLine("shares/mill-3/offsets/dump.nc", "00", 0)], finding.Evidence);
        Assert.Equal(
            "shares/mill-3/offsets has been silent since 2026-02-02 10:00: 6 h by 16:00, 5 hours in which it mostly "
                + "writes, usually every 30 min. What happened since is unknown; see whether it still writes.",
            finding.Message);
    }

    [Fact]
    public void Nights_weekends_and_the_first_days_of_all_raise_nothing()
    {
        for (var hour = 30; hour < 6 * 7 * 24; hour++)
        {
            var horizon = Monday.AddHours(hour);
            Assert.Null(Judge(Working(weeks: 6, until: horizon), horizon));
        }
    }

    [Fact]
    public void It_is_judged_when_the_horizon_has_passed_the_moment_and_then_stays_as_it_is()
    {
        var beat = Working(weeks: 4, until: Monday.AddDays(28).AddHours(10.2));
        var at = new DateTimeOffset(2026, 2, 2, 16, 0, 0, TimeSpan.Zero);

        Assert.Null(Judge(beat, at.AddSeconds(-1)));
        Assert.NotNull(Judge(beat, at));
        Assert.Equal(Judge(beat, at)?.Message, Judge(beat, at.AddYears(1))?.Message);
        Assert.Equal(Judge(beat, at)?.Id, Judge(beat, at.AddYears(1))?.Id);
    }

    [Fact]
    public void A_shop_that_works_at_night_is_silent_at_night()
    {
        var beat = Working(weeks: 4, until: Monday.AddDays(29).AddHours(2.2), from: 20, hours: 12);

        var finding = Judge(beat, Monday.AddDays(40));

        Assert.Equal(Monday.AddDays(29).AddHours(8), finding?.AtUtc);
    }

    [Theory]
    [InlineData(19, 1)]
    [InlineData(400, 2)]
    public void Of_few_arrivals_or_days_nobody_knows_what_is_usual(int arrivals, int days)
    {
        var step = TimeSpan.FromDays(days) / arrivals;
        var beat = Beat(Enumerable.Range(0, arrivals).Select(number => Monday + (number * step)));

        Assert.Null(Judge(beat, Monday.AddYears(1)));
    }

    [Fact]
    public void Lines_of_one_minute_are_one_writing()
    {
        var beat = Beat(Enumerable.Range(0, 300).Select(second => Monday.AddSeconds(second)));

        Assert.Equal(5, beat.Count);
        Assert.Equal(TimeSpan.FromMinutes(1), beat.UsualGap);
        Assert.Equal(Monday.AddSeconds(299), beat.LastUtc);
    }

    [Fact]
    public void A_source_that_writes_at_odd_times_is_given_longer()
    {
        var dice = new Random(7);
        var odd = Beat(Enumerable.Range(0, 28 * 24).Where(_ => dice.Next(12) == 0).Select(hour => Monday.AddHours(hour)));

        var finding = Judge(odd, Monday.AddYears(1));

        Assert.NotNull(finding);
        Assert.True(finding.AtUtc - odd.LastUtc > TimeSpan.FromDays(2), $"{finding.AtUtc - odd.LastUtc}");
    }

    [Fact]
    public void Summer_time_moves_the_hours_with_the_shop()
    {
        // The clocks go forward on 29 March 2026: eight in the morning is then seven by UTC.
        var spring = new DateTimeOffset(2026, 3, 2, 0, 0, 0, TimeSpan.Zero);
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/London");
        var moments = Enumerable.Range(0, 30 * 48).Select(half => spring.AddMinutes(30 * half))
            .Where(moment => TimeZoneInfo.ConvertTime(moment, zone) is
            {
                DayOfWeek: > DayOfWeek.Sunday and < DayOfWeek.Saturday,
                Hour: >= 8 and < 17
            });

        Assert.Null(Judge(Beat(moments), spring.AddDays(30)));
    }

    [Fact]
    public void The_configuration_turns_it_off_or_gives_it_a_severity()
    {
        var beat = Working(weeks: 4, until: Monday.AddDays(28).AddHours(10.2));
        var loud = Shop with { Rules = new Dictionary<string, Severity?> { ["silent-source"] = Severity.High } };
        var off = Shop with { Rules = new Dictionary<string, Severity?> { ["silent-source"] = null } };

        Assert.Equal(Severity.High, Judge(beat, Monday.AddDays(40), loud)?.Severity);
        Assert.Null(Judge(beat, Monday.AddDays(40), off));
    }

    private static Finding? Judge(SourceBeat beat, DateTimeOffset horizonUtc, ShopConfig? shop = null)
    {
        var watch = new WatchConfig
        {
            Index = 0,
            Folder = "shares/mill-3/offsets",
            FullFolder = "/shares/mill-3/offsets",
            Files = "*.nc",
            Read = SourceKind.DataSetting,
        };
        var machine = new MachineConfig { Name = "mill-3", Kind = MachineKind.Mill, Units = Units.Unit.Millimetre, Watch = [watch] };
        return RuleBook.JudgeSource(shop ?? Shop, machine, watch, new SourceSight { Beat = beat }, horizonUtc).SingleOrDefault();
    }

    /// <summary>Every half hour of the shifts of five days a week.</summary>
    private static SourceBeat Working(int weeks, DateTimeOffset until, int from = 7, int hours = 10) => Beat(
        Enumerable.Range(0, weeks * 7 * 48 + 96).Select(half => Monday.AddMinutes(30 * half))
            .Where(moment => (moment.AddHours(-from) - Monday).Days % 7 < 5 && moment >= Monday.AddHours(from)
                && moment.AddHours(-from).Hour < hours && moment <= until));

    private static SourceBeat Beat(IEnumerable<DateTimeOffset> moments)
    {
        SourceBeat? beat = null;
        foreach (var moment in moments)
        {
            var line = new SourceLine("shares/mill-3/offsets/dump.nc", "00", 0);
            beat = beat?.Next(moment, line) ?? SourceBeat.Begin(moment, line);
        }

        return beat ?? throw new InvalidOperationException("no moments");
    }
}
