using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class DatumEmptyTests
{
    private const string Rule = "datum-empty";

    private static CaseBuilder Cutting(string axes = "XYZ") =>
        new CaseBuilder().Program("O2041", program => program.Cuts("G54", axes)).CuttingAt("07:30");

    [Fact]
    public void A_register_of_zeros_that_the_program_cuts_in_stops()
    {
        var finding = Assert.Single(Cutting().Held("G54", 0.000m, 0.000m, 0.000m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/datum-empty/G54", finding.Id);
        Assert.Equal(Severity.Stop, finding.Severity);
        Assert.Equal(CaseBuilder.Register("G54"), finding.Register);
        Assert.Equal(0m, finding.Value);
        Assert.Equal(When.At("07:30"), finding.AtUtc);
        Assert.Equal(
            "O2041 cuts in G54, and it is zero in every axis (X, Y and Z at 0 mm since 2026-02-27 09:10).", finding.Message);
        Assert.Equal(4, finding.Evidence.Count);
    }

    [Fact]
    public void One_axis_that_is_not_zero_is_enough() => Assert.Empty(Cutting().Held("G54", 0, 0, -318m).Found(Rule));

    [Fact]
    public void A_register_that_holds_no_value_stops()
    {
        var finding = Assert.Single(Cutting().Held("G54.X", null).Held("G54.Y", null).Held("G54.Z", null).Found(Rule));
        Assert.Equal("O2041 cuts in G54, and the control holds no value for X, Y and Z of it since 2026-02-27 09:10.",
            finding.Message);
        Assert.Null(finding.Value);
    }

    [Fact]
    public void One_axis_without_a_value_that_the_program_moves_in_stops()
    {
        var finding = Assert.Single(Cutting().Held("G54.X", -1).Held("G54.Y", -2).Held("G54.Z", null).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/datum-empty/G54.Z", finding.Id);
        Assert.Equal("O2041 cuts in G54 and moves in Z, and the control holds no value for Z of G54.", finding.Message);
        Assert.Empty(Cutting("XY").Held("G54.X", -1).Held("G54.Y", -2).Held("G54.Z", null).Found(Rule));
    }

    [Fact]
    public void A_register_that_no_source_has_shown_is_unsaid_and_not_zero()
    {
        Assert.Empty(Cutting().Found(Rule));
        Assert.Empty(Cutting().Held("G54.X", 0).Held("G54.Y", 0).Found(Rule));
    }

    [Fact]
    public void A_register_that_only_parks_may_be_zero() =>
        Assert.Empty(new CaseBuilder().Held("G59", 0, 0, 0)
            .Program("O2041", program => program.Parks("G59")).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_register_that_a_program_not_read_may_cut_in_is_high() =>
        Assert.Equal(Severity.High, Assert.Single(new CaseBuilder().Held("G54", 0, 0, 0)
            .Program("O2041", program => program.MayCut("G54").Missing("O100")).CuttingAt("07:30").Found(Rule)).Severity);

    [Fact]
    public void A_program_that_sets_the_register_itself_may_find_it_empty() =>
        Assert.Empty(new CaseBuilder().Held("G54", 0, 0, 0)
            .Program("O2041", program => program.Cuts("G54").Writes("G54.X", -400m)).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_register_that_the_sheet_fixes_is_left_to_the_sheet() =>
        Assert.Empty(new CaseBuilder().Held("G58", 0, 0, 0)
            .Program("O2041", program => program.Cuts("G58").Sheet(sheet => sheet with
            {
                Datums =
                [
                    new SheetDatum
                    {
                        Register = CaseBuilder.Register("G58"), Fixed = new Dictionary<Axis, decimal> { [Axis.X] = 0m },
                    },
                ],
            })).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Nothing_is_said_before_the_setup_is_judged() =>
        Assert.Empty(new CaseBuilder().Held("G54", 0, 0, 0).Program("O2041").Found(Rule));

    [Fact]
    public void A_register_that_was_set_before_a_later_program_came_to_hand_is_not_empty()
    {
        CaseBuilder Second() => new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", 0, 0, 0).CuttingAt("07:30")
            .Program("O1", program => program.Cuts("G54")).Program("O2", program => program.Cuts("G55").Handed("09:00"));
        Assert.Equal(When.At("09:00"), Assert.Single(Second().Found(Rule)).AtUtc);
        Assert.Empty(Second().Touched("G55.X", "08:30", -14m).Found(Rule));
    }

    [Fact]
    public void With_z_from_tool_lengths_x_and_y_at_zero_are_empty() =>
        Assert.Single(Cutting().Machine(machine => machine with { ZFromToolLengths = true })
            .Held("G54.X", 0).Held("G54.Y", 0).Found(Rule));

    [Fact]
    public void On_a_lathe_zero_is_normal_where_tool_geometry_holds_x()
    {
        CaseBuilder Turn() => new CaseBuilder().Lathe().Held("G54.X", 0).Held("G54.Z", 0)
            .Program("O55", program => program.Cuts("G54", "XZ").Tool(3, 3)).CuttingAt("07:30");
        Assert.Empty(Turn().Held("T3.x", -142.1m).Found(Rule));
        Assert.Empty(Turn().Found(Rule));
        Assert.Single(Turn().Held("T3.x", 0).Found(Rule));
    }
}
