using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class OutsideTravelTests
{
    private const string Rule = "outside-travel";

    private static CaseBuilder At(decimal x, decimal y, decimal z) => new CaseBuilder().Held("G54", -400m, -200m, -300m)
        .Touched("G54.X", "07:10", x).Touched("G54.Y", "07:10", y).Touched("G54.Z", "07:12", z).CuttingAt("07:30");

    private static CaseBuilder Deep(decimal z, decimal lowest) => At(-400m, -200m, z).Held("T3.length", 120m).Held("T9.length", 60m)
        .Held("T24.length", 10m)
        .Program("O2041", program => program.Cuts("G54", "XYZ", lowest).Tool(3, 3).Tool(9, 9).Tool(24, 24));

    [Fact]
    public void An_x_outside_the_travel_is_found()
    {
        var finding = Assert.Single(At(-812.4m, -200m, -300m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/outside-travel/G54.X", finding.Id);
        Assert.Equal((Severity.High, -812.4m, new Bounds(-800, 0)), (finding.Severity, finding.Value, finding.ExpectedRange));
        Assert.Equal(
            "X of G54 lies at -812.4 mm in machine coordinates, outside the machine's travel of -800 to 0 mm.", finding.Message);
        Assert.Equal(When.At("07:10"), finding.AtUtc);
    }

    [Fact]
    public void A_y_outside_the_travel_is_found() =>
        Assert.Equal("mill-3@20260302-070000/outside-travel/G54.Y", Assert.Single(At(-400m, 0.001m, -300m).Found(Rule)).Id);

    [Fact]
    public void The_ends_of_the_travel_are_inside() => Assert.Empty(At(-800m, 0m, -300m).Found(Rule));

    [Fact]
    public void Z_alone_says_nothing_without_a_tool_and_a_program() => Assert.Empty(At(-400m, -200m, -900m).Found(Rule));

    [Fact]
    public void The_common_offset_adds() =>
        Assert.Equal(
            "X of G54 lies at -800.5 mm in machine coordinates with the common offset of -1.5 mm added, outside the machine's "
            + "travel of -800 to 0 mm.",
            Assert.Single(At(-799m, -200m, -300m).Held("COMMON.X", -1.5m).Found(Rule)).Message);

    [Fact]
    public void A_register_that_is_neither_set_nor_cut_in_is_not_looked_at() =>
        Assert.Empty(At(-400m, -200m, -300m).Held("G57", -900, -900, 0).Found(Rule));

    [Fact]
    public void A_register_that_the_program_cuts_in_is_looked_at_though_nothing_set_it() =>
        Assert.Equal(When.At("07:00"), Assert.Single(new CaseBuilder().Held("G57", -900, -100, -1).CuttingAt("07:30")
            .Program("O2041", program => program.Cuts("G57")).Found(Rule)).AtUtc);

    [Fact]
    public void A_z_that_the_shortest_tool_cannot_reach_stops()
    {
        var finding = Assert.Single(Deep(-560m, -30m).Found(Rule));
        Assert.Equal(("mill-3@20260302-070000/outside-travel/G54.Z", Severity.Stop), (finding.Id, finding.Severity));
        Assert.Equal(
            "Z of G54 at -560 mm cannot be worked with: O2041 goes down to Z -30 mm, and with the shortest tool it calls (tool "
            + "9, 60 mm) that is -530 mm in machine coordinates, outside the travel of -520 to 0 mm.", finding.Message);
        Assert.Equal(new Bounds(-550m, -30m), finding.ExpectedRange);
    }

    [Fact]
    public void A_z_that_the_shortest_tool_just_reaches_is_fine() => Assert.Empty(Deep(-550m, -30m).Found(Rule));

    [Fact]
    public void A_tool_of_unknown_length_leaves_the_reach_unknown() =>
        Assert.Empty(At(-400m, -200m, -900m).Held("T3.length", 120m)
            .Program("O2041", program => program.Cuts("G54", "XYZ", -30m).Tool(3, 3).Tool(9, 9)).Found(Rule));

    [Fact]
    public void A_machine_without_configured_travel_has_no_limits() =>
        Assert.Empty(At(-8000m, -200m, -300m)
            .Machine(machine => machine with { Travel = new Dictionary<Datums.Axis, Bounds>() }).Found(Rule));

    [Fact]
    public void Nothing_is_said_before_the_setup_is_judged() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Touched("G54.X", "07:10", -900m).Found(Rule));
}
