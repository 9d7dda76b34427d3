using SetupAudit.Support;

namespace SetupAudit.Days;

/// <summary>Days of the trade (common practice, no source), each through the built program.</summary>
public sealed class DaysThatMustComeOutRight
{
    private const string Old =
        "L2 P1 X-400. Y-200. Z-300.; L2 P2 X-100. Y-200. Z-300.; L10 P3 R120.; L11 P3 R0.; L10 P24 R150.";

    private static MillDay OneJob() =>
        new MillDay().Program("01 12:00", "O2041", MillDay.Cutting("O2041", "G54")).Dump("02 06:00", Old);

    [Fact]
    public void Corner_then_surface_is_complete()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.").Set("02 07:05", "G54", "Z -310.")
            .Cycle("02 07:20", "02 07:40", "O2041").Once();

        Assert.Empty(day.Findings());
        var setup = Assert.Single(day.Setups());
        Assert.Equal("mill-3@20260302-070000", setup.Text("setup"));
        Assert.Equal("settled", setup.Text("status"));
        Assert.Equal("true", setup.Items("registers")[0].Text("axes", "Z", "set"));
        Assert.Equal("measured", setup.Items("registers")[0].Text("axes", "Z", "by"));
    }

    [Fact]
    public void Corner_alone_leaves_z_not_set()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.").Cycle(
            "02 07:20", "02 07:40", "O2041").Once();

        Assert.Equal(["axis-not-set stop G54.Z"], day.Findings());
        Assert.Equal("queried", day.Setups()[0].Text("status"));
    }

    [Fact]
    public void A_three_axis_corner_alone_is_complete()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle(
            "02 07:20", "02 07:40", "O2041").Once();

        Assert.Empty(day.Findings());
    }

    [Fact]
    public void Two_vises_are_cut_by_one_program_that_calls_another_in_both()
    {
        const string Main = "%\nO100 (TWO VISES)\nG21 G90\nT3 M6\nG43 H3\nG54\nM98 P200\nG55\nM98 P200\nM30\n%\n";
        const string Sub = "%\nO200 (ONE PART)\nG0 X0. Y0. S3000 M3\nG0 Z50.\nG1 Z-2. F200.\nG1 X50. Y20.\nG0 Z50.\nM99\n%\n";
        using var both = new MillDay().Program("01 12:00", "O100", Main).Program("01 12:00", "O200", Sub).Dump(
            "02 06:00", Old)
            .Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Set(
                "02 07:10", "G55", "X -110.", "Y -205.", "Z -310.2")
            .Cycle("02 07:20", "02 07:40", "O100").Once();
        using var one = new MillDay().Program("01 12:00", "O100", Main).Program("01 12:00", "O200", Sub).Dump(
            "02 06:00", Old)
            .Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle("02 07:20", "02 07:40", "O100").Once();

        Assert.Empty(both.Findings());
        Assert.Equal(["datum-from-earlier high G55"], one.Findings());
    }

    [Fact]
    public void A_rerun_of_yesterdays_job_with_only_z_touched_is_carried_over()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle(
            "02 07:20", "02 07:40", "O2041")
            .Set("03 07:00", "G54", "Z -310.02").Cycle("03 07:10", "03 07:30", "O2041").Once();

        Assert.Empty(day.Findings());
        Assert.Equal(["axis-not-set note G54.X", "axis-not-set note G54.Y"],
            day.Findings(notes: true).Where(text => text.StartsWith("axis", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_setup_interrupted_overnight_and_finished_by_the_second_shift_is_one_setup()
    {
        using var day = OneJob().Set("02 15:30", "G54", "X -410.", "Y -205.").Once();
        // No program is in hand yet, so what it moves in is not known: high, not stop.
        Assert.Equal(["axis-not-set high G54.Z"], day.Findings());

        day.Set("03 06:10", "G54", "Z -310.").Cycle("03 06:30", "03 06:50", "O2041").Once();

        Assert.Single(day.Setups());
        Assert.Empty(day.Findings());
        Assert.Contains(day.Shop.List("findings", "--withdrawn"), finding => finding.Text("rule") == "axis-not-set");
    }

    [Fact]
    public void A_dry_run_fifty_up_and_back_is_a_note()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.")
            .Dump("02 07:10", "L2 P1 X-410. Y-205. Z-260.").Cycle("02 07:20", "02 07:30", "O2041")
            .Dump("02 07:35", "L2 P1 X-410. Y-205. Z-310.").Cycle("02 07:40", "02 08:00", "O2041").Once();

        Assert.Empty(day.Findings());
        Assert.Single(day.Setups());
        Assert.Contains(day.Findings(notes: true), text => text.StartsWith("lift note", StringComparison.Ordinal));
    }

    [Fact]
    public void Probing_that_updates_the_datum_for_every_part_is_no_movement_while_cutting()
    {
        const string Probing =
            "%\nO2041 (PROBES EACH PART)\nG21 G90\nT24 M6\nG54 G65 P7040 S1 Q20.\nT3 M6\nG0 G54 X0. Y0.\nG43 H3 Z50.\nG1 Z-2. F200.\nG1 X50. Y20.\nM30\n%\n";
        const string Calls = """ "ProbingCalls": [ { "Call": "G65 P7040", "Kind": "single-surface", "Search": "Q", "Sets": "Z" } ], """;
        using var day = new MillDay(extra: Calls).Program("01 12:00", "O2041", Probing).Dump("02 06:00", Old)
            .Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle("02 07:20", "02 07:40", "O2041")
            .Print("02 08:00", "CYCLE START O2041").Dump("02 08:02", "L2 P1 X-410. Y-205. Z-310.6").Print(
                "02 08:20", "CYCLE END")
            .Print("02 08:30", "CYCLE START O2041").Dump("02 08:32", "L2 P1 X-410. Y-205. Z-309.8").Print(
                "02 08:50", "CYCLE END").Once();

        Assert.DoesNotContain(
            day.Findings(), text => text.StartsWith("changed-while-cutting", StringComparison.Ordinal));
        Assert.Equal(2, Assert.Single(day.Setups()).Items("adjustments").Count);
    }

    [Fact]
    public void Wear_trimmed_per_shift_is_an_adjustment()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle(
            "02 07:20", "02 07:40", "O2041")
            .Dump("02 14:00", "L11 P3 R-0.02").Cycle("02 14:10", "02 14:30", "O2041").Dump(
                "02 22:00", "L11 P3 R-0.05").Once();

        Assert.Equal(2, Assert.Single(day.Setups()).Items("adjustments").Count);
        Assert.Empty(day.Findings());
    }

    [Fact]
    public void A_tool_measured_again_after_breakage_is_low()
    {
        using var day = OneJob().Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle(
            "02 07:20", "02 07:40", "O2041")
            .Print("02 08:00", "CYCLE START O2041").Print("02 08:05", "ALARM 201").Print("02 08:05", "CYCLE STOP")
            .Print("02 08:20", "TOOL 3 118.75").Cycle("02 08:30", "02 08:50", "O2041").Once();

        Assert.DoesNotContain(
            day.Findings(), text =>
                text.Contains(" stop ", StringComparison.Ordinal) || text.Contains(" high ", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_pallet_of_a_pool_has_its_own_setup()
    {
        using var day = new MillDay().Program("01 12:00", "O2041", MillDay.Cutting("O2041", "G54")).Program(
            "01 12:00", "O2042", MillDay.Cutting("O2042", "G55"))
            .Dump("02 06:00", Old).Print("02 06:30", "PALLET A").Set(
                "02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle("02 07:20", "02 07:40", "O2041")
            .Print("02 07:45", "PALLET B").Set("02 07:50", "G55", "X -110.", "Y -205.", "Z -310.").Cycle(
                "02 08:00", "02 08:20", "O2042")
            .Print("02 08:25", "PALLET A").Cycle("02 08:30", "02 08:50", "O2041").Once();

        Assert.Equal(["A", "B"], day.Setups().Select(setup => setup.Text("pallet")).Order(StringComparer.Ordinal));
        Assert.Empty(day.Findings());
    }

    [Fact]
    public void A_tombstone_of_24_registers_shows_the_one_z_that_was_left_out()
    {
        var calls = string.Concat(
            Enumerable.Range(1, 24)
                .Select(n => $"G54.1 P{n}\nG0 X0. Y0.\nZ50.\nG1 Z-2. F200.\nG1 X20. Y10.\nG0 Z50.\n"));
        var old = string.Join("; ", Enumerable.Range(1, 24).Select(n => $"L20 P{n} X-{n}. Y-{n}. Z-{n}."));
        var now = string.Join(
            "; ", Enumerable.Range(1, 24).Select(n => $"L20 P{n} X-{n}.5 Y-{n}.5 Z-{n}.{(n == 17 ? "" : "5")}"));
        using var day = new MillDay().Program(
            "01 12:00", "O2400", $"%\nO2400 (TOMBSTONE)\nG21 G90\nT3 M6\nG43 H3\n{calls}M30\n%\n")
            .Dump("02 06:00", old + "; L10 P3 R120.").Dump("02 07:00", now).Cycle(
                "02 07:20", "02 08:40", "O2400").Once();

        Assert.Equal("G54.1 P17",
            Assert.Single(day.Shop.List("findings"), finding => finding.Text("rule") == "axis-not-set").Text(
                "register"));
    }

    [Fact]
    public void A_dump_once_a_day_by_a_night_copy_does_not_take_back_what_a_print_out_told()
    {
        using var day = new MillDay(lag: "12:00:00").Program(
            "01 12:00", "O2041", MillDay.Cutting("O2041", "G54")).Dump("01 23:00", Old)
            .Set("02 16:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle("02 16:20", "02 16:40", "O2041").Dump(
                "02 23:00", Old)
            .Dump("03 23:00", "L2 P1 X-410. Y-205. Z-310.").Once();

        Assert.Empty(day.Findings());
        Assert.Single(day.Setups());
        Assert.Equal("-410", day.Shop.State("mill-3", "2026-03-03T00:00:00Z").Items("registers")[0].Text(
            "axes", "X", "value"));
    }

    [Fact]
    public void Without_any_print_outs_a_forgotten_z_is_no_change_seen()
    {
        using var day = new MillDay(prints: false).Program("02 05:00", "O2041", MillDay.Cutting("O2041", "G54"))
            .Dump("02 06:00", Old).Dump("02 07:00", "L2 P1 X-410. Y-205. Z-300.").Dump(
                "02 09:00", "L2 P1 X-410. Y-205. Z-300.").Once();

        Assert.Equal(["axis-not-set high G54.Z"], day.Findings());
        Assert.Contains("no change seen",
            day.Shop.List("findings", "--machine", "mill-3").First(
                finding => finding.Text("rule") == "axis-not-set").Text("message"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_control_an_hour_off_after_the_clock_change_gives_no_finding_of_severity_stop()
    {
        // The control still prints winter time: its cycle starts seem to lie an hour before the dumps of the same work.
        using var day = new MillDay(shareAheadMinutes: 60).Program("01 12:00", "O2041", MillDay.Cutting("O2041", "G54"))
            .Dump("02 06:00", Old).Dump("02 07:00", "L2 P1 X-410. Y-205. Z-310.").Cycle("02 07:20", "02 07:40", "O2041")
            .Cycle("02 07:45", "02 08:05", "O2041").Once();

        Assert.DoesNotContain(day.Findings(), text => text.Contains(" stop", StringComparison.Ordinal));
    }

    [Fact]
    public void O0001_for_every_part_is_told_apart_by_its_title()
    {
        using var day = new MillDay().Program("02 06:30", "O0001", MillDay.Cutting("O0001", "G54", "COVER")).Dump(
            "02 06:00", Old)
            .Set("02 07:00", "G54", "X -410.", "Y -205.", "Z -310.").Cycle("02 07:20", "02 07:40", "O0001").Once();
        day.Program("03 06:30", "O0001", MillDay.Cutting("O0001", "G54", "BRACKET"))
            .Set("03 07:00", "G54", "X -350.", "Y -180.", "Z -280.").Cycle("03 07:20", "03 07:40", "O0001").Once();

        Assert.DoesNotContain(
            day.Findings(notes: true), text => text.StartsWith("program-changed", StringComparison.Ordinal));
        Assert.Empty(day.Findings());
    }

    [Fact]
    public void Offsets_lost_with_the_battery_and_restored_from_an_old_file_are_told_as_both()
    {
        const string All = "L2 P1 X-410. Y-205. Z-310.; L2 P2 X-100. Y-200. Z-300.; L2 P3 X-50. Y-40. Z-30.; L10 P3 R120.; L10 P4 R99.; L10 P24 R150.";
        const string Lost = "L2 P1 X0. Y0. Z0.; L2 P2 X0. Y0. Z0.; L2 P3 X0. Y0. Z0.; L10 P3 R0.; L10 P4 R0.; L10 P24 R0.";
        using var day = new MillDay().Program("01 12:00", "O2041", MillDay.Cutting("O2041", "G54")).Dump(
            "02 06:00", All)
            .Dump("03 06:00", Lost).Waiting("01 10:00", All).Dump("03 08:00", All).Once();

        var memory = day.Shop.List("findings").Where(finding => finding.Text("rule") == "memory-lost")
            .Select(finding => finding.Text("severity")).ToList();
        Assert.Contains("stop", memory);
        Assert.Contains("high", memory);
        Assert.Contains(day.Shop.List("changes"), change => change.Text("by") == "restored");
    }

    [Fact]
    public void A_dump_that_waits_to_be_loaded_proves_no_state_and_explains_a_later_change()
    {
        using var day = OneJob().Waiting("02 06:30", "L2 P1 X-420. Y-210. Z-320.").Dump("02 07:00", Old).Once();
        Assert.Empty(day.Setups());

        day.Dump("02 08:00", "L2 P1 X-420. Y-210. Z-320.").Once();

        var changes = day.Shop.List("changes").Where(change => change.Text("before") is not null).ToList();
        Assert.Equal(3, changes.Count);
        Assert.All(changes, change => Assert.Equal("restored", change.Text("by")));
    }
}
