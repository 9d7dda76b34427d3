using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class OutsideSheetTests
{
    private const string Rule = "outside-sheet";

    private static CaseBuilder With(Func<SetupSheet, SetupSheet> fill) =>
        new CaseBuilder().Program("O2041", program => program.Cuts("G54").Sheet(fill));

    private static CaseBuilder Wanting(params SheetMeasure[] measured) => With(sheet => sheet with { Measured = measured });

    private static CaseBuilder ExpectZ(Unit unit = Unit.Millimetre) => With(sheet => sheet with
    {
        Units = unit,
        Datums =
        [
            new SheetDatum
            {
                Register = CaseBuilder.Register("G54"),
                Expect = new Dictionary<Axis, Bounds>
                {
                    [Axis.Z] = unit == Unit.Inch ? new(-13m, -12m) : new(-330m, -300m), [Axis.B] = new(-1m, 1m),
                },
            },
        ],
        Tools = [new SheetTool(3, unit == Unit.Inch ? new(4.5m, 5m) : new(118m, 126m)), new SheetTool(9, null)],
    }).CuttingAt("07:30");

    private static readonly SheetMeasure Bore = new() { Feature = "bore-1", Size = new Bounds(24.98m, 25.02m) };

    private static readonly SheetMeasure Apart =
        new() { Between = ["bore-1", "bore-2"], Distance = new Bounds(59.97m, 60.03m) };

    [Fact]
    public void A_datum_outside_the_sheets_range_is_found()
    {
        var finding = Assert.Single(ExpectZ().Held("G54.Z", -298.5m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/outside-sheet/G54.Z", finding.Id);
        Assert.Equal((Severity.High, -298.5m, new Bounds(-330m, -300m)), (finding.Severity, finding.Value, finding.ExpectedRange));
        Assert.Equal("Z of G54 stands at -298.5 mm, outside the -330 to -300 mm of the setup sheet of O2041.", finding.Message);
    }

    [Fact]
    public void The_ends_of_the_range_are_inside() => Assert.Empty(ExpectZ().Held("G54.Z", -300m).Found(Rule));

    [Fact]
    public void A_datum_that_no_source_has_shown_is_not_known_to_lie_outside() => Assert.Empty(ExpectZ().Found(Rule));

    [Fact]
    public void The_sheets_unit_is_turned_into_the_machines() =>
        Assert.Equal(new Bounds(-330.2m, -304.8m), Assert.Single(ExpectZ(Unit.Inch).Held("G54.Z", -304.7m).Found(Rule)).ExpectedRange);

    [Fact]
    public void Degrees_are_degrees_in_any_sheet()
    {
        Assert.Empty(ExpectZ(Unit.Inch).Held("G54.B", 1m).Found(Rule));
        Assert.Single(ExpectZ(Unit.Inch).Held("G54.B", 1.1m).Found(Rule));
    }

    [Fact]
    public void Values_are_not_held_against_the_sheet_while_the_setup_goes_on() =>
        Assert.Empty(With(sheet => sheet with { Tools = [new SheetTool(3, new(118m, 126m))] }).Held("T3.length", 90m).Found(Rule));

    [Fact]
    public void A_tool_length_outside_the_sheets_range_is_found()
    {
        Assert.Equal("Length of tool 3 stands at 90 mm, outside the 118 to 126 mm of the setup sheet of O2041.",
            Assert.Single(ExpectZ().Held("T3.length", 90m).Found(Rule)).Message);
        Assert.Empty(ExpectZ().Held("T3.length", 120m).Held("T9.length", 1m).Found(Rule));
    }

    [Fact]
    public void A_measured_size_outside_the_sheets_range_is_found_at_once()
    {
        var finding = Assert.Single(Wanting(Bore)
            .Measured("07:12", bore => bore with { Feature = "BORE-1", Size = 25.034m }).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/outside-sheet/bore-1.size", finding.Id);
        Assert.Equal((25.034m, When.At("07:12")), (finding.Value, finding.AtUtc));
        Assert.Equal(
            "The size of bore-1 was measured at 25.034 mm at 2026-03-02 07:12, outside the 24.98 to 25.02 mm of the setup "
            + "sheet of O2041.", finding.Message);
    }

    [Fact]
    public void In_setting_up_the_last_measurement_counts() =>
        Assert.Empty(Wanting(Bore).Measured("07:12", bore => bore with { Feature = "bore-1", Size = 25.034m })
            .Measured("07:16", bore => bore with { Feature = "bore-1", Size = 25.001m }).Found(Rule));

    [Fact]
    public void Of_parts_each_counts_and_they_are_told_together() =>
        Assert.EndsWith("; 2 of 3 parts measured are outside.", Assert.Single(Wanting(Bore)
            .Measured("08:12", bore => bore with { Feature = "bore-1", Size = 25.034m, Cycle = 0 })
            .Measured("08:22", bore => bore with { Feature = "bore-1", Size = 25.001m, Cycle = 1 })
            .Measured("08:32", bore => bore with { Feature = "bore-1", Size = 25.05m, Cycle = 2 }).Found(Rule)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void An_angle_outside_the_sheets_range_is_found()
    {
        var finding = Assert.Single(Wanting(new SheetMeasure { Feature = "edge", Angle = new Bounds(-0.05m, 0.05m) })
            .Measured("07:12", edge => edge with { Feature = "edge", Angle = 0.1m }).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/outside-sheet/edge.angle", finding.Id);
        Assert.Equal((0.1m, Unit.Degree), (finding.Value, finding.Unit));
    }

    [Fact]
    public void A_distance_outside_the_sheets_range_is_found()
    {
        CaseBuilder Bores(decimal x) => Wanting(Apart)
            .Measured("07:12", bore => bore with { Feature = "bore-1", X = 0m, Y = 0m })
            .Measured("07:14", bore => bore with { Feature = "bore-2", X = x, Y = 48m });
        // 36, 48, 60 is three, four, five times twelve.
        Assert.Empty(Bores(36m).Found(Rule));
        var finding = Assert.Single(Bores(36.1m).Found(Rule));
        Assert.Equal(("mill-3@20260302-070000/outside-sheet/bore-1+bore-2.distance", 60.060053m), (finding.Id, finding.Value));
        Assert.Equal(3, finding.Evidence.Count);
    }

    [Fact]
    public void Features_of_two_parts_or_registers_have_no_distance()
    {
        CaseBuilder Bores(int? cycle, string register) => Wanting(Apart)
            .Measured("07:12", bore => bore with { Feature = "bore-1", X = 0m, Register = CaseBuilder.Register("G54") })
            .Measured("07:14", bore => bore with
            {
                Feature = "bore-2",
                X = 70m,
                Cycle = cycle,
                Register = CaseBuilder.Register(register),
            });
        Assert.Single(Bores(null, "G54").Found(Rule));
        Assert.Empty(Bores(0, "G54").Found(Rule));
        Assert.Empty(Bores(null, "G55").Found(Rule));
    }

    [Fact]
    public void A_feature_that_was_not_measured_is_found_when_production_starts()
    {
        var waiting = Wanting(Bore).CuttingAt("07:30");
        Assert.Empty(waiting.Found(Rule));
        var finding = Assert.Single(waiting.ClosedAt("07:41").Found(Rule));
        Assert.Equal((When.At("07:41"), Severity.High, null), (finding.AtUtc, finding.Severity, finding.Value));
        Assert.Equal(
            "The size of bore-1 was not measured by 2026-03-02 07:41, and the setup sheet of O2041 wants it within 24.98 to "
            + "25.02 mm.", finding.Message);
    }

    [Fact]
    public void One_measured_in_the_first_cycle_was_measured() =>
        Assert.Empty(Wanting(Bore).CuttingAt("07:30").ClosedAt("07:41")
            .Measured("07:40", bore => bore with { Feature = "bore-1", Size = 25.001m, Cycle = 0 }).Found(Rule));

    [Fact]
    public void A_feature_without_a_range_only_wants_measuring()
    {
        var feature = new SheetMeasure { Feature = "face" };
        Assert.Single(Wanting(feature).QuietAt("08:00").Found(Rule));
        Assert.Empty(Wanting(feature).Measured("07:12", face => face with { Feature = "face", Z = -1m }).QuietAt("08:00").Found(Rule));
    }

    [Fact]
    public void It_is_asked_at_once_where_the_setup_went_quiet_or_a_person_asks()
    {
        Assert.Single(Wanting(Bore).QuietAt("08:00").Found(Rule));
        Assert.Single(Wanting(Apart).AskedAt("07:25").Found(Rule));
    }

    [Fact]
    public void Where_no_source_tells_measurements_it_is_low() =>
        Assert.Equal(Severity.Low, Assert.Single(Wanting(Bore).NoPrintOuts().QuietAt("08:00").Found(Rule)).Severity);
}
