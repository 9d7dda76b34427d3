using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class AxisNotSetTests
{
    private const string Rule = "axis-not-set";

    private static CaseBuilder Job() => new CaseBuilder().Held("G54", -410.2m, -205.1m, -318.204m).Program("O2041");

    private static CaseBuilder Corner() => Job().Touched("G54.X", "07:13", -398.112m).Touched("G54.Y", "07:14", -188.4m);

    [Fact]
    public void A_corner_without_a_surface_leaves_z_not_set()
    {
        var finding = Assert.Single(Corner().CuttingAt("07:30").Found(Rule));
        Assert.Equal("mill-3@20260302-070000/axis-not-set/G54.Z", finding.Id);
        Assert.Equal(Severity.Stop, finding.Severity);
        Assert.Equal(CaseBuilder.Register("G54"), finding.Register);
        Assert.Equal(Axis.Z, finding.Axis);
        Assert.Equal(-318.204m, finding.Value);
        Assert.Equal(When.At("07:30"), finding.AtUtc);
        Assert.Equal(
            "Z of G54 was not set: X and Y were set by 07:14 (print-out), and O2041 cuts in G54 and moves in Z; it "
            + "stood at -318.204 mm from 2026-02-27 09:10.", finding.Message);
        Assert.Contains(finding.Evidence, line => line.File.EndsWith("O2041.nc", StringComparison.Ordinal) && line.Line == 12);
        Assert.Equal(finding.Evidence.Count, finding.Evidence.Distinct().Count());
    }

    [Fact]
    public void A_corner_and_then_a_surface_is_complete() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:18", -317.9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_three_axis_corner_is_complete() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:14", -317.9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_bore_sets_x_and_y_and_its_size_sets_no_z() =>
        Assert.Equal(["mill-3@20260302-070000/axis-not-set/G54.Z"],
            Corner().Measured("07:14", bore => bore with { Feature = "bore-1", Size = 25.003m })
                .CuttingAt("07:30").Found(Rule).Select(finding => finding.Id));

    [Fact]
    public void An_angle_sets_no_datum() =>
        Assert.Empty(Job().Measured("07:12", edge => edge with { Feature = "edge", Angle = 0.1m }).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_touch_that_gives_the_same_value_again_has_set_the_axis() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:18", -318.204m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_touch_whose_line_tells_no_value_has_set_the_axis() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:18").CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_value_entered_by_hand_has_set_the_axis() =>
        Assert.Empty(Corner().Changed("G54.Z", "07:10", "07:20", -317.9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_first_sight_sets_nothing() =>
        Assert.Empty(new CaseBuilder().Program("O2041")
            .Changed("G54.X", "07:10", "07:20", -400m).Changed("G54.Y", "07:10", "07:20", -200m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_change_that_may_have_come_before_cutting_is_not_called_missing() =>
        Assert.Empty(Corner().Changed("G54.Z", "07:20", "07:40", -317.9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_change_that_came_after_cutting_started_was_too_late() =>
        Assert.Single(Corner().Changed("G54.Z", "07:31", "07:40", -317.9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_program_that_came_to_hand_later_is_judged_when_it_did()
    {
        CaseBuilder Second() => new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", -4, -5, -6)
            .Program("O1", program => program.Cuts("G54")).Program("O2", program => program.Cuts("G55").Handed("09:00"))
            .Touched("G55.X", "08:10", -14m).Touched("G55.Y", "08:10", -15m).CuttingAt("07:30");
        Assert.Equal(When.At("09:00"), Assert.Single(Second().Found(Rule)).AtUtc);
        Assert.Empty(Second().Touched("G55.Z", "08:30", -16m).Found(Rule));
    }

    [Fact]
    public void Nothing_is_missing_while_the_setup_goes_on() => Assert.Empty(Corner().Found(Rule));

    [Fact]
    public void It_is_judged_when_the_setup_goes_quiet_and_when_a_person_asks()
    {
        Assert.Equal(When.At("08:10"), Assert.Single(Corner().QuietAt("08:10").Found(Rule)).AtUtc);
        Assert.Equal(When.At("07:25"), Assert.Single(Corner().AskedAt("07:25").Found(Rule)).AtUtc);
    }

    [Fact]
    public void A_program_that_never_moves_in_z_does_not_ask_for_it() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Program("O2041", program => program.Cuts("G54", "XY"))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_register_that_only_parks_is_not_asked_for() =>
        Assert.Empty(new CaseBuilder().Held("G59", -1, -2, -3)
            .Program("O2041", program => program.Cuts("G54").Parks("G59", "XYZ"))
            .Touched("G59.X", "07:13", -5m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Each_of_two_vises_is_looked_at_for_itself()
    {
        var found = new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", -4, -5, -6)
            .Program("O2041", program => program.Cuts("G54").Cuts("G55"))
            .Touched("G54.X", "07:13", -11m).Touched("G54.Y", "07:13", -12m).Touched("G54.Z", "07:14", -13m)
            .Touched("G55.X", "07:16", -14m).Touched("G55.Y", "07:16", -15m)
            .CuttingAt("07:30").Found(Rule);
        Assert.Equal("mill-3@20260302-070000/axis-not-set/G55.Z", Assert.Single(found).Id);
    }

    [Fact]
    public void A_register_that_was_not_set_at_all_is_another_rule() =>
        Assert.Empty(Job().CuttingAt("07:30").Found(Rule));

    [Fact]
    public void The_sheet_asks_for_an_axis_that_the_program_does_not_name()
    {
        var finding = Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O2041", program => program.Cuts("G54", "XY").Sheet(sheet => sheet with
            {
                Datums = [new SheetDatum { Register = CaseBuilder.Register("G54"), Axes = [Axis.X, Axis.Y, Axis.Z] }],
            }))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule));
        Assert.Contains("the setup sheet of O2041 asks for Z of G54", finding.Message, StringComparison.Ordinal);
        Assert.Contains(finding.Evidence, line => line.File == "sheets/O2041.json");
    }

    [Fact]
    public void A_rotary_axis_is_asked_for_only_where_the_sheet_names_it()
    {
        CaseBuilder Tombstone(params Axis[] axes) => new CaseBuilder().Held("G54", -1, -2, -3).Held("G54.B", 0)
            .Program("O2041", program => program.Cuts("G54", "XYZB").Sheet(sheet => sheet with
            {
                Datums = [new SheetDatum { Register = CaseBuilder.Register("G54"), Axes = axes }],
            }))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).Touched("G54.Z", "07:13", -7m).CuttingAt("07:30");
        Assert.Empty(Tombstone(Axis.X, Axis.Y, Axis.Z).Found(Rule));
        Assert.Equal(Axis.B, Assert.Single(Tombstone(Axis.X, Axis.Y, Axis.Z, Axis.B).Found(Rule)).Axis);
    }

    [Fact]
    public void A_second_linear_axis_is_asked_for_only_where_the_register_has_it()
    {
        CaseBuilder Quill(bool has) => (has ? Corner().Held("G54.W", 0) : Corner()).Touched("G54.Z", "07:15", -317m)
            .Program("O7", program => program.Cuts("G54", "XYZW")).CuttingAt("07:30");
        Assert.Empty(Quill(has: false).Found(Rule));
        Assert.Equal(Axis.W, Assert.Single(Quill(has: true).Found(Rule)).Axis);
    }

    [Fact]
    public void Without_a_print_out_that_tells_touches_it_is_worded_no_change_seen()
    {
        var finding = Assert.Single(Job().NoPrintOuts()
            .Changed("G54.X", "07:05", "07:14", -398.112m).Changed("G54.Y", "07:05", "07:14", -188.4m)
            .CuttingAt("07:30").Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Equal(
            "Z of G54: no change seen, while X and Y were set between 07:05 and 07:14 (dump), and O2041 cuts in G54 and "
            + "moves in Z; no print-out here could tell a touch that gave the same value again, and it stood at "
            + "-318.204 mm from 2026-02-27 09:10.", finding.Message);
    }

    [Fact]
    public void A_time_behind_another_day_is_told_with_its_own_day()
    {
        var finding = Assert.Single(Job().NoPrintOuts()
            .Changed("G54.X", "02-27 16:40", "07:14", -398.112m).Changed("G54.Y", "02-27 16:40", "07:14", -188.4m)
            .CuttingAt("07:30").Found(Rule));
        Assert.Contains("X and Y were set between 2026-02-27 16:40 and 2026-03-02 07:14 (dump)", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rerun_of_yesterdays_job_with_only_z_touched_carries_x_and_y_over()
    {
        var found = Job().Touched("G54.Z", "07:14", -317.95m).LastCut("G54", "O2041").CuttingAt("07:30").Found(Rule);
        Assert.Equal([Axis.X, Axis.Y], found.Select(finding => finding.Axis).OfType<Axis>());
        Assert.All(found, finding => Assert.Equal(Severity.Note, finding.Severity));
        Assert.Equal(
            "X of G54 was carried over: O2041 was the last to cut in G54 (2026-03-01 16:10) and it has not moved since, "
            + "while Z was set at 07:14 (print-out); it stood at -410.2 mm from 2026-02-27 09:10.", found[0].Message);
    }

    [Fact]
    public void An_axis_that_moved_after_the_last_cut_is_not_carried_over() =>
        Assert.All(Job().Held("G54.X", -410.2m, since: "03-01 18:00").Held("G54.Y", -205.1m, since: "03-01 18:00")
            .Touched("G54.Z", "07:14", -317.95m).LastCut("G54", "O2041").CuttingAt("07:30").Found(Rule),
            finding => Assert.Equal(Severity.Stop, finding.Severity));

    [Fact]
    public void Another_program_in_the_register_carries_nothing_over() =>
        Assert.All(Job().Touched("G54.Z", "07:14", -317.95m).LastCut("G54", "O7").CuttingAt("07:30").Found(Rule),
            finding => Assert.Equal(Severity.Stop, finding.Severity));

    [Fact]
    public void The_same_number_with_another_title_is_another_program()
    {
        var found = new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O1", program => program.Cuts("G54").Title("PUMP COVER"))
            .Touched("G54.Z", "07:14", -4m).LastCut("G54", "O1", title: "BRACKET").CuttingAt("07:30").Found(Rule);
        Assert.Equal(2, found.Count);
        Assert.All(found, finding => Assert.Equal(Severity.Stop, finding.Severity));
    }

    [Fact]
    public void A_surface_that_was_not_found_sets_nothing()
    {
        var found = Corner().Touched("G54.Z", "07:18", -330m, missed: true)
            .Changed("G54.Z", "07:14", "07:19", -330m).CuttingAt("07:30").Found(Rule);
        Assert.Equal(Axis.Z, Assert.Single(found).Axis);
    }

    [Fact]
    public void A_value_entered_after_the_miss_was_seen_sets_the_axis() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:18", missed: true).Changed("G54.Z", "07:20", "07:24", -317.9m)
            .CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_good_touch_after_the_miss_sets_the_axis() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:18", -330m, missed: true).Touched("G54.Z", "07:20", -317.9m)
            .CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_z_raised_for_a_dry_run_and_put_back_was_not_set() =>
        Assert.Equal(Axis.Z, Assert.Single(Corner()
            .Changed("G54.Z", "07:14", "07:20", -268.204m).Changed("G54.Z", "07:20", "07:28", -318.204m)
            .Lifted("G54.Z", -318.204m, -268.204m, "07:20", -318.204m, "07:28").CuttingAt("07:30").Found(Rule)).Axis);

    [Fact]
    public void Registers_restored_after_a_loss_of_memory_were_not_set_up() =>
        Assert.Empty(Job().Held("G54", 0, 0, 0)
            .Changed("G54.X", "07:05", "07:14", -410.2m).Changed("G54.Y", "07:05", "07:14", -205.1m)
            .Lost("07:14", "registers", 6, 6, returned: true).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void An_axis_that_the_program_sets_itself_is_not_asked_of_the_setter()
    {
        CaseBuilder With(Func<ProgramBuilder, ProgramBuilder> more) => new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O2041", program => more(program.Cuts("G54")))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30");
        Assert.Empty(With(program => program.Writes("G54.Z", -300m)).Found(Rule));
        Assert.Empty(With(program => program.Probes("G54", "Z")).Found(Rule));
        Assert.Single(With(program => program.Writes("G54.Z", 0.5m, adds: true)).Found(Rule));
        Assert.Single(With(program => program.Writes("G54.Z", -300m, conditional: true)).Found(Rule));
        Assert.Single(With(program => program.Probes("G55", "Z")).Found(Rule));
    }

    [Fact]
    public void With_no_program_known_a_mill_is_asked_for_x_y_and_z_at_high()
    {
        var finding = Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).QuietAt("08:00").Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Equal(
            "Z of G54 was not set: X and Y were set at 07:13 (print-out), and no program is known for this setup, so X, Y "
            + "and Z are asked for; it stood at -3 mm from 2026-02-27 09:10.", finding.Message);
    }

    [Fact]
    public void With_no_program_known_a_lathe_is_asked_for_nothing() =>
        Assert.Empty(new CaseBuilder().Lathe().Held("G54.X", 0).Held("G54.Z", -3)
            .Touched("G54.Z", "07:13", -5m).QuietAt("08:00").Found(Rule));

    [Fact]
    public void A_program_whose_text_is_not_known_asks_for_x_y_and_z_at_high()
    {
        var finding = Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3).Program("O2041", program => program.Unread())
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Contains("the text of O2041 is not known", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_called_program_that_was_not_read_passes_nothing()
    {
        var finding = Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O2041", program => program.MayCut("G54").Missing("O100"))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule));
        Assert.Equal((Axis.Z, Severity.High), (finding.Axis, finding.Severity));
        Assert.Contains("O100, which O2041 calls, has not been read", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_program_that_only_probes_is_no_program_that_parts_are_made_by()
    {
        var finding = Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O8000", program => program.Parks("G54", "XYZ").Probes("G54", "XY"))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).QuietAt("08:00").Found(Rule));
        Assert.Contains("no program that cuts is known", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_fixed_axis_is_not_asked_for() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -350)
            .Program("O2041", program => program.Cuts("G54").Sheet(sheet => sheet with
            {
                Datums =
                [
                    new SheetDatum
                    {
                        Register = CaseBuilder.Register("G54"),
                        Fixed = new Dictionary<Axis, decimal> { [Axis.Z] = -350m },
                    },
                ],
            }))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void On_a_lathe_x_from_tool_geometry_is_not_asked_for()
    {
        CaseBuilder Turn(decimal x) => new CaseBuilder().Lathe().Held("G54.X", x).Held("G54.Z", -120m)
            .Program("O55", program => program.Cuts("G54", "XZ")).Touched("G54.Z", "07:13", -118.4m).CuttingAt("07:30");
        Assert.Empty(Turn(0m).Found(Rule));
        Assert.Equal(Axis.X, Assert.Single(Turn(-40m).Found(Rule)).Axis);
    }

    [Fact]
    public void With_z_from_tool_lengths_every_called_tool_is_asked_for_instead_of_z()
    {
        var found = new CaseBuilder().Machine(machine => machine with { ZFromToolLengths = true })
            .Held("G54", -1, -2, 0).Held("T3.length", -301.2m).Held("T5.length", -288.4m).Held("T24.length", -250m)
            .Program("O2041", program => program.Cuts("G54").Tool(3, 3).Tool(5, 5).Tool(24, 24))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).Touched("T3.length", "07:20", -300.9m)
            .CuttingAt("07:30").Found(Rule);
        var finding = Assert.Single(found);
        Assert.Equal("mill-3@20260302-070000/axis-not-set/T5.length", finding.Id);
        Assert.Equal((5, ToolPart.Length, Severity.Stop), (finding.Tool, finding.Of, finding.Severity));
        Assert.Equal(
            "Length of tool 5 was not set: X and Y of G54 were set at 07:13 (print-out), and O2041 calls it; it "
            + "stood at -288.4 mm from 2026-02-27 09:10.", finding.Message);
    }

    [Fact]
    public void Without_z_from_tool_lengths_no_tool_is_asked_for() =>
        Assert.Empty(Corner().Touched("G54.Z", "07:15", -317m).Held("T5.length", 120m)
            .Program("O7", program => program.Cuts("G54").Tool(5, 5)).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Tool_lengths_are_carried_over_with_the_job_that_last_cut_in_the_register() =>
        Assert.Equal(Severity.Note, Assert.Single(new CaseBuilder().Machine(machine => machine with { ZFromToolLengths = true })
            .Held("G54", -1, -2, 0).Held("T5.length", -288.4m).LastCut("G54", "O2041")
            .Program("O2041", program => program.Cuts("G54").Tool(5, 5))
            .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule)).Severity);

    [Theory]
    [InlineData("COMMON")]
    [InlineData("G92")]
    public void The_common_offset_and_g92_are_not_asked_for(string register) =>
        Assert.Empty(new CaseBuilder().Held(register, 0, 0, 0).Touched($"{register}.X", "07:13", -5m).QuietAt("08:00").Found(Rule));

    [Fact]
    public void A_text_read_only_from_a_later_version_is_told() =>
        Assert.EndsWith("The text of O2041 was only read from a later version (2026-03-02 09:00).",
            Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
                .Program("O2041", program => program.Cuts("G54").ReadLater("09:00"))
                .Touched("G54.X", "07:13", -5m).Touched("G54.Y", "07:13", -6m).CuttingAt("07:30").Found(Rule)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void No_stop_rests_on_clocks_that_disagree()
    {
        var finding = Assert.Single(Corner().CuttingAt("07:30").ClocksDisagree("day.log runs 61 min behind").Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Contains("their clocks disagree (day.log runs 61 min behind)", finding.Message, StringComparison.Ordinal);
    }
}
