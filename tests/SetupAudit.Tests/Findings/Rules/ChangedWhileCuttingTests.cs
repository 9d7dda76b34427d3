using SetupAudit.Changes;
using SetupAudit.Findings.Support;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class ChangedWhileCuttingTests
{
    private const string Rule = "changed-while-cutting";

    /// <summary>Production of O2041 from 09:00 on: three cycles of ten minutes, two minutes between.</summary>
    private static CaseBuilder Running(Func<ProgramBuilder, ProgramBuilder>? program = null) => new CaseBuilder()
        .Held("G54", -400m, -200m, -318.204m).Held("G55", -1m, -2m, -3m).Held("T3.length", 120m)
        .Held("T3.length-wear", 0m).Held("T9.length", 80m).Held("COMMON.Z", 0m)
        .Program("O2041", program ?? (same => same.Cuts("G54").Tool(3, 3)))
        .CuttingAt("09:00").ClosedAt("09:10")
        .Cycle("O2041", "09:00", "09:10").Cycle("O2041", "09:12", "09:22").Cycle("O2041", "09:24", "09:34");

    [Fact]
    public void A_datum_that_moved_within_a_cycle_stops()
    {
        var finding = Assert.Single(Running().Adjusted("G54.Z", "09:13", "09:17", -318.104m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/changed-while-cutting/G54.Z", finding.Id);
        Assert.Equal((Severity.Stop, -318.104m, -318.204m, When.At("09:17")),
            (finding.Severity, finding.Value, finding.Expected, finding.AtUtc));
        Assert.Equal(
            "Z of G54 moved by 0.100 mm (from -318.204 to -318.104 mm) between 2026-03-02 09:13 and 09:17, while O2041 ran (09:12 "
            + "to 09:22); it cuts in G54, and no program in hand writes it.", finding.Message);
    }

    [Fact]
    public void A_tool_length_that_the_program_calls_and_that_moved_within_a_cycle_stops()
    {
        var finding = Assert.Single(Running().Adjusted("T3.length", "09:13", "09:17", 120.1m).Found(Rule));
        Assert.Equal((Severity.Stop, 3), (finding.Severity, finding.Tool));
        Assert.Contains("it calls it, and no program in hand writes it", finding.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("G55.Z", -13)]
    [InlineData("T9.length", 90)]
    public void What_the_program_does_not_call_may_be_set_for_the_next_job(string key, int value) =>
        Assert.Empty(Running().Changed(key, "09:13", "09:17", value).Found(Rule));

    [Fact]
    public void A_register_that_only_parks_is_no_cutting_datum() =>
        Assert.Empty(Running(program => program.Cuts("G54").Parks("G55")).Changed("G55.Z", "09:13", "09:17", -13m).Found(Rule));

    [Fact]
    public void The_common_offset_is_called_by_every_program() =>
        Assert.Equal(Severity.Stop, Assert.Single(Running().Adjusted("COMMON.Z", "09:13", "09:17", 0.1m).Found(Rule)).Severity);

    [Fact]
    public void Probing_that_updates_the_datum_for_every_part_is_the_program_itself()
    {
        Assert.Empty(Running(program => program.Cuts("G54").Probes("G54", "Z")).Adjusted("G54.Z", "09:13", "09:17", -318.6m).Found(Rule));
        Assert.Empty(Running(program => program.Cuts("G54").Writes("G54.Z", 0.1m, adds: true))
            .Adjusted("G54.Z", "09:13", "09:17", -318.6m).Found(Rule));
        Assert.Empty(Running().Adjusted("G54.Z", "09:13", "09:17", -318.6m, change => change with { By = ChangedBy.Program }).Found(Rule));
    }

    [Fact]
    public void A_touch_told_within_a_cycle_was_made_by_the_program_that_ran() =>
        Assert.Empty(Running().Touched("G54.Z", "09:14", -318.1m, cycle: 1).Found(Rule));

    [Fact]
    public void A_value_that_a_person_entered_within_a_cycle_stops()
    {
        var running = Running().Touched("G54.Z", "09:14", cycle: 1)
            .Adjusted("G54.Z", "09:14", "09:14", -318.1m, change => change with { Touched = true, By = ChangedBy.Entered });
        Assert.Equal(Severity.Stop, Assert.Single(running.Found(Rule)).Severity);
    }

    [Fact]
    public void A_touch_between_two_cycles_was_not_made_while_cutting() =>
        Assert.Empty(Running().Touched("G54.Z", "09:22", -316m).Found(Rule));

    [Fact]
    public void A_large_change_in_an_interval_that_may_lie_within_a_cycle_is_high()
    {
        var finding = Assert.Single(Running().Changed("G54.Z", "09:11", "09:14", -317.2m).Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Equal(
            "Z of G54 moved by 1.004 mm (from -318.204 to -317.2 mm) between 2026-03-02 09:11 and 09:14, while O2041 may have been "
            + "running (09:12 to 09:22); it cuts in G54, and the move is beyond what an adjustment may be.", finding.Message);
    }

    [Fact]
    public void A_small_change_in_such_an_interval_is_nothing() =>
        Assert.Empty(Running().Adjusted("G54.Z", "09:11", "09:14", -318.0m).Found(Rule));

    [Fact]
    public void On_an_inch_machine_the_limit_is_the_same_length()
    {
        Assert.Empty(Running().Inch().Changed("G54.Z", "09:11", "09:14", -318.2138m).Found(Rule));
        Assert.Single(Running().Inch().Changed("G54.Z", "09:11", "09:14", -318.2139m).Found(Rule));
    }

    [Fact]
    public void A_change_between_two_cycles_is_nothing() =>
        Assert.Empty(Running().Changed("G54.Z", "09:10", "09:12", -317m).Found(Rule));

    [Fact]
    public void A_cycle_of_the_setup_before_may_still_run_when_the_next_opens()
    {
        var next = new CaseBuilder().Held("G54.Z", -318.204m).Program("O2041", program => program.Cuts("G54"))
            .Previous(before => before.Cycle("O2041", "06:55", "07:05")).Changed("G54.Z", "06:57", "07:00", -312m);
        Assert.Equal(Severity.Stop, Assert.Single(next.Found(Rule)).Severity);
    }

    [Fact]
    public void A_changeover_within_the_interval_explains_it()
    {
        CaseBuilder Slow(string last, string next) => new CaseBuilder().Held("G54.Z", -318.204m)
            .Program(next, program => program.Cuts("G54")).Program(last, program => program.Cuts("G54"))
            .Previous(before => before.Cycle(last, "06:40", "06:45").Cycle(last, "06:47", "06:52"))
            .Changed("G54.Z", "06:50", "07:00", -290m).Cycle(next, "07:20", "07:30").CuttingAt("07:20");
        Assert.Empty(Slow("O7", "O2041").Found(Rule));
        Assert.Equal(Severity.High, Assert.Single(Slow("O7", "O7").Found(Rule)).Severity);
    }

    [Fact]
    public void A_night_copy_says_nothing_about_the_cycles_of_the_day() =>
        Assert.Empty(Running().Changed("G54.Z", "02:00", "03-03 02:00", -290m).Found(Rule));

    [Fact]
    public void A_dump_that_first_shows_the_setup_after_cutting_started_shows_the_setup() =>
        Assert.Empty(new CaseBuilder().Held("G54", -400m, -200m, -318m).Program("O2041").CuttingAt("07:20")
            .Cycle("O2041", "07:20", "07:30").Changed("G54.X", "07:00", "07:25", -300m).Changed("G54.Y", "07:00", "07:25", -100m)
            .Changed("G54.Z", "07:00", "07:25", -290m).Found(Rule));

    [Fact]
    public void An_axis_that_came_on_top_of_a_set_register_is_high() =>
        Assert.Equal(Severity.High, Assert.Single(new CaseBuilder().Held("G54", -400m, -200m, -318m).Program("O2041")
            .CuttingAt("07:20").Cycle("O2041", "07:20", "07:30")
            .Touched("G54.X", "07:10", -300m).Touched("G54.Y", "07:10", -100m)
            .Changed("G54.Z", "07:05", "07:25", -290m).Found(Rule)).Severity);

    [Fact]
    public void A_dry_run_up_and_back_is_a_lift_and_not_this() =>
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318m).Program("O2041").CuttingAt("07:20")
            .Changed("G54.Z", "07:10", "07:15", -318.2m)
            .Changed("G54.Z", "07:15", "07:19", -268.2m).Cycle("O2041", "07:20", "07:24", underLift: true)
            .Changed("G54.Z", "07:19", "07:28", -318.2m)
            .Lifted("G54.Z", -318.2m, -268.2m, "07:19", -318.2m, "07:28").Found(Rule));

    [Fact]
    public void Wear_within_its_limit_is_one_note()
    {
        var finding = Assert.Single(Running().Adjusted("T3.length-wear", "09:13", "09:14", 0.02m)
            .Adjusted("T3.length-wear", "09:25", "09:26", 0.03m).Found(Rule));
        Assert.Equal((Severity.Note, "mill-3@20260302-070000/changed-while-cutting/T3.length-wear"), (finding.Severity, finding.Id));
        Assert.Equal(
            "Length wear of tool 3 was trimmed 2 times while cycles ran, first by 2026-03-02 09:14: by 0.03 mm in all and at most "
            + "0.02 mm at once, within its limit.", finding.Message);
    }

    [Fact]
    public void Wear_beyond_its_limit_stops()
    {
        var limit = new LimitConfig { Tool = "*", Of = "length-wear", Change = 0.1m };
        Assert.Equal(Severity.Stop, Assert.Single(Running().Shop(shop => shop with { Limits = [limit] })
            .Adjusted("T3.length-wear", "09:13", "09:14", 0.11m).Found(Rule)).Severity);
        Assert.Equal(Severity.Stop, Assert.Single(Running().Adjusted("T3.length-wear", "09:13", "09:14", 0.26m).Found(Rule)).Severity);
    }

    [Fact]
    public void Wear_trimmed_between_cycles_is_nothing() =>
        Assert.Empty(Running().Adjusted("T3.length-wear", "09:22", "09:24", 0.02m).Found(Rule));

    [Fact]
    public void A_tool_measured_again_after_an_alarm_is_low()
    {
        var finding = Assert.Single(Running().Alarmed("09:26", "breakage").Touched("T3.length", "09:30", 119.2m).Found(Rule));
        Assert.Equal(Severity.Low, finding.Severity);
        Assert.Equal(
            "Length of tool 3 moved by -0.8 mm (from 120 to 119.2 mm) at 2026-03-02 09:30, measured again after the alarm 5012 NO "
            + "SURFACE at 09:26.", finding.Message);
    }

    [Fact]
    public void A_tool_measured_again_after_a_stop_is_low() =>
        Assert.Equal(Severity.Low, Assert.Single(Running().Cycle("O2041", "09:36", "09:39", CycleEnding.Aborted)
            .Touched("T3.length", "09:45", 119.2m).Found(Rule)).Severity);

    [Fact]
    public void An_alarm_of_an_earlier_cycle_explains_nothing() =>
        Assert.Equal(Severity.Stop, Assert.Single(Running().Alarmed("09:05", "breakage")
            .Adjusted("T3.length", "09:13", "09:17", 119.2m).Found(Rule)).Severity);

    [Fact]
    public void A_tool_entered_by_hand_after_an_alarm_stops() =>
        Assert.Equal(Severity.Stop, Assert.Single(Running().Alarmed("09:26", "breakage")
            .Adjusted("T3.length", "09:27", "09:30", 119.2m, change => change with { By = ChangedBy.Entered }).Found(Rule)).Severity);

    [Fact]
    public void A_datum_moved_after_an_alarm_stops() =>
        Assert.Equal(Severity.Stop, Assert.Single(Running().Alarmed("09:26", "breakage")
            .Adjusted("G54.Z", "09:27", "09:30", -318.1m).Found(Rule)).Severity);

    [Fact]
    public void Where_the_text_is_not_known_it_is_high_or_low_by_its_size()
    {
        CaseBuilder Unread(decimal z) => Running(program => program.Unread()).Adjusted("G54.Z", "09:13", "09:17", z);
        var finding = Assert.Single(Unread(-317.2m).Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Contains("its text is not known in full", finding.Message, StringComparison.Ordinal);
        Assert.Equal(Severity.Low, Assert.Single(Unread(-318.1m).Found(Rule)).Severity);
    }

    [Fact]
    public void The_first_setting_within_a_cycle_of_a_program_not_known_is_its_probing() =>
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318m).Program("O8000", program => program.Unread())
            .Cycle("O8000", "07:10", "07:20").Changed("G54.Z", "07:12", "07:14", -290m).Found(Rule));

    [Fact]
    public void A_cycle_whose_end_nobody_told_ends_with_the_next_or_as_long_as_such_a_cycle_takes()
    {
        CaseBuilder Open(string from, string to) => Running().Cycle("O2041", "09:36").Adjusted("G54.Z", from, to, -318.1m);
        Assert.Single(Open("09:40", "09:44").Found(Rule));
        Assert.Empty(Open("11:00", "11:10").Found(Rule));
    }

    [Fact]
    public void Where_no_source_tells_when_cycles_end_a_change_may_only_have_lain_within_one()
    {
        CaseBuilder StartsOnly(decimal z) => new CaseBuilder().Held("G54.Z", -318.204m).Program("O2041")
            .Cycle("O2041", "09:00").Cycle("O2041", "09:12").Cycle("O2041", "09:24").CuttingAt("09:00")
            .Adjusted("G54.Z", "09:13", "09:17", z);
        Assert.Equal(Severity.High, Assert.Single(StartsOnly(-317.2m).Found(Rule)).Severity);
        Assert.Empty(StartsOnly(-318.1m).Found(Rule));
    }

    [Fact]
    public void What_was_lost_with_the_memory_is_another_rule() =>
        Assert.Empty(Running().Changed("G54.Z", "09:13", "09:17", 0m).Lost("09:17", "registers", 5, 6).Found(Rule));

    [Fact]
    public void No_stop_rests_on_clocks_that_disagree() =>
        Assert.Equal(Severity.High, Assert.Single(Running().ClocksDisagree("an hour off")
            .Adjusted("G54.Z", "09:13", "09:17", -318.1m).Found(Rule)).Severity);

    [Fact]
    public void Without_cycles_nothing_is_known_to_have_been_cut() =>
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318m).Program("O2041").Changed("G54.Z", "09:13", "09:17", -290m).Found(Rule));
}
