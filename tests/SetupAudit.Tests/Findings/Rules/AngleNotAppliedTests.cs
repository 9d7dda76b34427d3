using SetupAudit.Findings.Support;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class AngleNotAppliedTests
{
    private const string Rule = "angle-not-applied";

    private static CaseBuilder Edge(decimal angle, Func<Measurement, Measurement>? more = null) => new CaseBuilder()
        .Held("G54.R", 0m).CuttingAt("07:30")
        .Program("O2041", program => program.Cuts("G54").Sheet(sheet => sheet with
        {
            Measured = [new SheetMeasure { Feature = "edge", Angle = new Bounds(-0.05m, 0.05m) }],
        }))
        .Measured("07:10", edge => (more ?? (same => same))(
            edge with { Feature = "EDGE", Angle = angle, Register = CaseBuilder.Register("G54") }));

    [Fact]
    public void An_angle_beyond_its_limit_without_a_rotation_after_it_is_found()
    {
        var finding = Assert.Single(Edge(0.1m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/angle-not-applied/EDGE", finding.Id);
        Assert.Equal((Severity.High, 0.1m, new Bounds(-0.05m, 0.05m), Unit.Degree),
            (finding.Severity, finding.Value, finding.ExpectedRange, finding.Unit));
        Assert.Equal(
            "The angle of EDGE was measured at 0.1 deg at 2026-03-02 07:10, beyond its limit of -0.05 to 0.05 deg, and no "
            + "rotation was set in G54 after it by 07:30.", finding.Message);
    }

    [Fact]
    public void An_angle_within_its_limit_needs_no_rotation() => Assert.Empty(Edge(0.05m).Found(Rule));

    [Fact]
    public void A_rotation_set_after_it_applies_it() => Assert.Empty(Edge(0.1m).Touched("G54.R", "07:15", 0.1m).Found(Rule));

    [Fact]
    public void A_rotation_set_before_it_does_not() => Assert.Single(Edge(0.1m).Touched("G54.R", "07:05", 0.1m).Found(Rule));

    [Fact]
    public void A_rotation_of_another_register_does_not() =>
        Assert.Single(Edge(0.1m).Held("G55.R", 0m).Touched("G55.R", "07:15", 0.1m).Found(Rule));

    [Fact]
    public void A_rotary_axis_set_after_it_applies_it() =>
        Assert.Empty(Edge(0.1m).Held("G54.C", 0m).Touched("G54.C", "07:15", 0.1m).Found(Rule));

    [Fact]
    public void A_part_knocked_straight_and_measured_again_needs_none() =>
        Assert.Empty(Edge(0.1m).Measured("07:20", edge => edge with { Feature = "EDGE", Angle = 0.01m }).Found(Rule));

    [Fact]
    public void A_print_outs_own_limits_serve_where_the_sheet_has_none()
    {
        CaseBuilder Own(Func<Measurement, Measurement> more) => new CaseBuilder().CuttingAt("07:30")
            .Measured("07:10", edge => more(edge with { Feature = "edge", Angle = 0.1m }));
        Assert.Single(Own(edge => edge with { Low = -0.05m, High = 0.05m }).Found(Rule));
        Assert.Empty(Own(edge => edge with { Low = -0.2m, High = 0.2m }).Found(Rule));
        Assert.Empty(Own(edge => edge).Found(Rule));
        // The limits of a line that also tells a size are the size's.
        Assert.Empty(Own(edge => edge with { Size = 25m, Low = 24.9m, High = 25.1m }).Found(Rule));
    }

    [Fact]
    public void An_angle_measured_after_cutting_started_is_not_the_setups() =>
        Assert.Empty(new CaseBuilder().CuttingAt("07:30")
            .Measured("07:40", edge => edge with { Feature = "edge", Angle = 0.1m, Low = -0.05m, High = 0.05m }).Found(Rule));

    [Fact]
    public void Nothing_is_said_while_the_setup_goes_on() =>
        Assert.Empty(new CaseBuilder()
            .Measured("07:10", edge => edge with { Feature = "edge", Angle = 0.1m, Low = -0.05m, High = 0.05m }).Found(Rule));

    [Fact]
    public void A_program_that_sets_the_rotation_itself_applies_it() =>
        Assert.Empty(Edge(0.1m).Program("O7", program => program.Cuts("G54").Writes("G54.R", null)).Found(Rule));
}
