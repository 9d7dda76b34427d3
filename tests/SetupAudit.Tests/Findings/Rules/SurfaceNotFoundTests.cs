using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class SurfaceNotFoundTests
{
    private const string Rule = "surface-not-found";

    private static CaseBuilder Missed() => new CaseBuilder().Held("G54.Z", -318.2m)
        .Alarmed("07:18", Rule).Touched("G54.Z", "07:18", -343.2m, missed: true);

    [Fact]
    public void A_search_that_met_no_surface_is_found_with_its_alarm()
    {
        var finding = Assert.Single(Missed().Found(Rule));
        Assert.Equal("mill-3@20260302-070000/surface-not-found/G54.Z", finding.Id);
        Assert.Equal((Severity.High, When.At("07:18")), (finding.Severity, finding.AtUtc));
        Assert.Equal(
            "A probing move met no surface at 2026-03-02 07:18 (alarm 5012 NO SURFACE): Z of G54 does not count as set by it, "
            + "and no good touch has followed.", finding.Message);
        Assert.Equal(2, finding.Evidence.Count);
    }

    [Fact]
    public void A_later_good_touch_of_the_axis_withdraws_it() =>
        Assert.Empty(Missed().Touched("G54.Z", "07:20", -317.9m).Found(Rule));

    [Fact]
    public void A_good_touch_of_another_axis_does_not() =>
        Assert.Single(Missed().Held("G54.X", -1m).Touched("G54.X", "07:20", -2m).Found(Rule));

    [Fact]
    public void A_good_touch_before_it_does_not() =>
        Assert.Single(new CaseBuilder().Held("G54.Z", -318.2m).Touched("G54.Z", "07:10", -317.9m)
            .Touched("G54.Z", "07:18", missed: true).Found(Rule));

    [Fact]
    public void An_alarm_that_names_register_and_axis_is_enough()
    {
        Assert.Equal("mill-3@20260302-070000/surface-not-found/G54.Z",
            Assert.Single(new CaseBuilder().Alarmed("07:18", Rule, "G54.Z").Found(Rule)).Id);
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318.2m).Alarmed("07:18", Rule, "G54.Z")
            .Touched("G54.Z", "07:20", -317.9m).Found(Rule));
    }

    [Fact]
    public void An_alarm_that_names_nothing_is_withdrawn_by_the_next_good_touch()
    {
        Assert.Equal("mill-3@20260302-070000/surface-not-found/surface",
            Assert.Single(new CaseBuilder().Alarmed("07:18", Rule).Found(Rule)).Id);
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318.2m).Alarmed("07:18", Rule).Touched("G54.Z", "07:20", -317.9m).Found(Rule));
    }

    [Fact]
    public void An_alarm_that_names_a_feature_is_withdrawn_by_that_feature()
    {
        CaseBuilder Alarmed() => new CaseBuilder().Alarmed("07:18", Rule, feature: "bore-1");
        Assert.Equal("mill-3@20260302-070000/surface-not-found/bore-1", Assert.Single(Alarmed().Found(Rule)).Id);
        Assert.Single(Alarmed().Measured("07:20", bore => bore with { Feature = "bore-2", Size = 25m }).Found(Rule));
        Assert.Empty(Alarmed().Measured("07:20", bore => bore with { Feature = "BORE-1", Size = 25m }).Found(Rule));
    }

    [Fact]
    public void Two_misses_of_one_axis_are_told_once() =>
        Assert.Equal(2, Assert.Single(new CaseBuilder().Held("G54.Z", -318.2m).Touched("G54.Z", "07:18", missed: true)
            .Touched("G54.Z", "07:25", missed: true).Found(Rule)).Evidence.Count);

    [Fact]
    public void Another_alarm_is_no_missed_surface() => Assert.Empty(new CaseBuilder().Alarmed("07:18", "overload", "G54.Z").Found(Rule));
}
