using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class LiftedTests
{
    private const string Rule = "lift";

    private static CaseBuilder Up(decimal? putTo = null, string? put = null) => new CaseBuilder()
        .Lifted("G54.Z", -318.2m, -268.2m, "07:19", putTo, put);

    [Fact]
    public void A_z_raised_and_put_back_exactly_is_a_note()
    {
        var finding = Assert.Single(Up(-318.20m, "07:28").CuttingAt("07:20").Found(Rule));
        Assert.Equal("mill-3@20260302-070000/lift/G54.Z", finding.Id);
        Assert.Equal((Severity.Note, When.At("07:28")), (finding.Severity, finding.AtUtc));
        Assert.Equal(
            "Z of G54 was raised by 50.0 mm by 2026-03-02 07:19, and put back exactly by 07:28: a dry run above the part.",
            finding.Message);
    }

    [Fact]
    public void A_z_left_raised_when_production_started_is_high()
    {
        var finding = Assert.Single(Up().CuttingAt("07:20").ClosedAt("07:24").Found(Rule));
        Assert.Equal((Severity.High, When.At("07:24"), -268.2m, -318.2m),
            (finding.Severity, finding.AtUtc, finding.Value, finding.Expected));
        Assert.Equal(
            "Z of G54 was raised by 50.0 mm by 2026-03-02 07:19 and not put back: production started at 2026-03-02 07:24 with it, "
            + "50.0 mm above the -318.2 mm it started from.", finding.Message);
    }

    [Fact]
    public void Put_back_after_production_started_it_was_left_in() =>
        Assert.Equal(Severity.High, Assert.Single(Up(-318.2m, "07:40").CuttingAt("07:20").ClosedAt("07:24").Found(Rule)).Severity);

    [Fact]
    public void A_z_that_stands_raised_where_the_setup_went_quiet_or_a_person_asks_is_high()
    {
        Assert.Equal(Severity.High, Assert.Single(Up().QuietAt("08:04").Found(Rule)).Severity);
        Assert.Equal(Severity.High, Assert.Single(Up().AskedAt("07:25").Found(Rule)).Severity);
    }

    [Fact]
    public void While_the_dry_run_may_be_going_on_it_is_a_note() =>
        Assert.Equal(Severity.Note, Assert.Single(Up().CuttingAt("07:20").Cycle("O2041", "07:20", underLift: true).Found(Rule)).Severity);

    [Fact]
    public void Before_anything_ran_nothing_is_said() => Assert.Empty(Up().Found(Rule));

    [Fact]
    public void A_z_put_down_beyond_its_start_stops_at_once()
    {
        var finding = Assert.Single(Up(-318.7m, "07:28").Found(Rule));
        Assert.Equal((Severity.Stop, When.At("07:28"), -318.7m), (finding.Severity, finding.AtUtc, finding.Value));
        Assert.EndsWith("that is 0.5 mm below the -318.2 mm it started from, and tools would go as much too deep.", finding.Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_z_that_fell_to_zero_with_all_others_was_not_raised() =>
        Assert.Empty(Up(-318.2m, "07:28").Lost("07:19", "registers", 5, 6).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_setup_without_a_lift_has_none() =>
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318m).Touched("G54.Z", "07:10", -268m).CuttingAt("07:20").Found(Rule));
}
