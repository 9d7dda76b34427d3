using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class RemeasuredApartTests
{
    private const string Rule = "remeasured-apart";

    private static CaseBuilder Twice(decimal first, decimal second) => new CaseBuilder().Held("G54.X", -400m)
        .Touched("G54.X", "07:10", first).Touched("G54.X", "07:20", second);

    [Fact]
    public void The_same_axis_touched_twice_apart_is_found()
    {
        var finding = Assert.Single(Twice(-398.112m, -398.412m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/remeasured-apart/G54.X", finding.Id);
        Assert.Equal((Severity.High, -398.412m, -398.112m), (finding.Severity, finding.Value, finding.Expected));
        Assert.Equal(
            "X of G54 was touched twice with no cycle between and differs by 0.300 mm: -398.112 mm at 2026-03-02 07:10, "
            + "-398.412 mm at 07:20.", finding.Message);
        Assert.Equal(2, finding.Evidence.Count);
    }

    // Common practice, no source: a spindle probe repeats well within 0.025 mm.
    [Fact]
    public void What_probing_repeats_is_not_apart()
    {
        Assert.Empty(Twice(-398.112m, -398.137m).Found(Rule));
        Assert.Single(Twice(-398.112m, -398.138m).Found(Rule));
    }

    [Fact]
    public void A_coarse_control_repeats_to_ten_of_its_steps()
    {
        Assert.Empty(Twice(-398.1m, -398.2m).Machine(machine => machine with { Resolution = 0.01m }).Found(Rule));
        Assert.Single(Twice(-398.1m, -398.21m).Machine(machine => machine with { Resolution = 0.01m }).Found(Rule));
    }

    [Fact]
    public void On_an_inch_machine_the_same_length_counts()
    {
        Assert.Empty(Twice(-15.6730m, -15.6739m).Inch().Found(Rule));
        Assert.Single(Twice(-15.6730m, -15.6741m).Inch().Found(Rule));
    }

    [Theory]
    [InlineData(-398.410)]
    [InlineData(-398.110)]
    public void A_later_touch_that_agrees_withdraws_it(double third) =>
        Assert.Empty(Twice(-398.112m, -398.412m).Touched("G54.X", "07:25", (decimal)third).Found(Rule));

    [Fact]
    public void A_later_touch_that_agrees_with_none_is_found_again() =>
        Assert.Equal(-399m, Assert.Single(Twice(-398.112m, -398.412m).Touched("G54.X", "07:25", -399m).Found(Rule)).Value);

    [Fact]
    public void A_cycle_between_is_another_part() =>
        Assert.Empty(new CaseBuilder().Held("G54.X", -400m).Program("O2041").Touched("G54.X", "07:10", -398.112m)
            .Cycle("O2041", "07:12", "07:18").Touched("G54.X", "07:20", -398.412m).Found(Rule));

    [Fact]
    public void The_run_of_a_program_that_only_probes_is_no_cycle_between() =>
        Assert.Single(new CaseBuilder().Held("G54.X", -400m).Program("O8000", program => program.Parks("G54"))
            .Touched("G54.X", "07:10", -398.112m)
            .Cycle("O8000", "07:12", "07:22").Touched("G54.X", "07:20", -398.412m).Found(Rule));

    [Fact]
    public void Another_axis_or_register_is_another_touch() =>
        Assert.Empty(new CaseBuilder().Held("G54.X", -400m).Held("G55.X", -1m)
            .Touched("G54.X", "07:10", -398m).Touched("G55.X", "07:20", -398.412m).Found(Rule));

    [Fact]
    public void A_touch_without_a_value_or_without_a_surface_says_nothing() =>
        Assert.Empty(new CaseBuilder().Held("G54.X", -400m).Touched("G54.X", "07:10", -398m).Touched("G54.X", "07:20")
            .Touched("G54.X", "07:25", -350m, missed: true).Found(Rule));

    [Fact]
    public void The_size_of_a_feature_measured_twice_apart_is_found()
    {
        var finding = Assert.Single(new CaseBuilder()
            .Measured("07:10", bore => bore with { Feature = "bore-1", Size = 25.003m })
            .Measured("07:20", bore => bore with { Feature = "BORE-1", Size = 25.043m }).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/remeasured-apart/BORE-1.size", finding.Id);
        Assert.StartsWith("Size of BORE-1 was touched twice", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_place_of_a_feature_measured_twice_apart_is_found() =>
        Assert.Equal("mill-3@20260302-070000/remeasured-apart/BORE-1.Y", Assert.Single(new CaseBuilder()
            .Measured("07:10", bore => bore with { Feature = "bore-1", X = 10m, Y = 20m })
            .Measured("07:20", bore => bore with { Feature = "bore-1", X = 10.01m, Y = 20.4m }).Found(Rule)).Id);

    [Fact]
    public void An_angle_measured_again_after_the_part_was_knocked_straight_is_no_fault() =>
        Assert.Empty(new CaseBuilder().Measured("07:10", edge => edge with { Feature = "edge", Angle = 0.4m })
            .Measured("07:20", edge => edge with { Feature = "edge", Angle = 0.01m }).Found(Rule));

    [Fact]
    public void A_rotation_touched_twice_is_compared_in_degrees()
    {
        Assert.Single(new CaseBuilder().Held("G54.R", 0m).Touched("G54.R", "07:10", 0.10m).Touched("G54.R", "07:20", 0.13m).Found(Rule));
        Assert.Empty(new CaseBuilder().Held("G54.R", 0m).Touched("G54.R", "07:10", 0.10m).Touched("G54.R", "07:20", 0.12m).Found(Rule));
    }
}
