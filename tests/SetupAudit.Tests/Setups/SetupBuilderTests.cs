using SetupAudit.Readings;
using SetupAudit.Support;

namespace SetupAudit.Setups;

/// <summary>Contract section 4a, clause by clause; docs/setups.md draws the same time lines.</summary>
public sealed class SetupBuilderTests
{
    private const string Old = "G54.X=-400 G54.Y=-200 G54.Z=-300";
    private const string New = "G54.X=-410 G54.Y=-205 G54.Z=-310";

    [Fact]
    public void Production_starts_when_the_first_cycle_has_run_to_its_end()
    {
        var setup = Assert.Single(new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50").Setups("08:00"));

        Assert.Equal(Day.At("07:30"), setup.CuttingUtc);
        Assert.Equal(Day.At("07:50"), setup.ClosedUtc);
        Assert.Equal(Judgement.CuttingStarted, setup.Judged);
        Assert.Equal(Day.At("07:30"), setup.JudgedUtc);
    }

    [Fact]
    public void A_cycle_that_was_stopped_starts_no_production()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New).Start("07:30").Print("07:35", PrintMeaning.CycleStop)
            .Dump("07:40", "G54.X=-410 G54.Y=-205 G54.Z=-309");

        var setup = Assert.Single(day.Setups("07:45"));

        Assert.Null(setup.ClosedUtc);
        Assert.Equal(4, setup.Changes.Count);
        Assert.Equal(CycleEnding.Aborted, setup.Cycles[0].Ended);
    }

    [Fact]
    public void A_change_beyond_the_limit_after_production_opens_the_next_setup()
    {
        var setups = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50").Dump("09:00", Old).Setups("09:01");

        Assert.Equal(2, setups.Count);
        Assert.Equal("mill-3@20260302-090000", setups[1].Id);
    }

    [Fact]
    public void A_small_change_after_production_is_an_adjustment()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "G54.X=-410.25 G54.Y=-205 G54.Z=-310");

        var setup = Assert.Single(day.Setups("09:00"));

        Assert.Equal(-0.25m, Assert.Single(setup.Adjustments).Delta);
        Assert.Equal(setup.Id, setup.Adjustments[0].Setup);
    }

    [Fact]
    public void A_small_change_beside_a_large_one_in_the_same_dump_belongs_to_the_next_setup()
    {
        var setups = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("09:00", "G54.X=-410.02 G54.Y=-205 G54.Z=-312").Setups("09:01");

        Assert.Empty(setups[0].Adjustments);
        Assert.Equal(["G54.X", "G54.Z"], setups[1].Changes.Select(change => change.Key.ToString()));
    }

    [Fact]
    public void A_wear_of_any_size_after_production_is_an_adjustment()
    {
        var day = new Day().Dump("06:00", Old + " T3.length-wear=0").Dump("07:00", New).Cycle("07:30", "07:50").Dump("08:00", "T3.length-wear=-0.4");

        Assert.Single(Assert.Single(day.Setups("09:00")).Adjustments);
    }

    [Fact]
    public void A_touch_after_production_opens_the_next_setup_however_little_it_moves()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50").Touch("08:10", "G54.Z=-310.02");

        Assert.Equal(2, day.Setups("08:11").Count);
    }

    [Fact]
    public void A_measurement_in_a_cycle_of_production_opens_nothing()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50").Start("08:00")
            .Print("08:05", PrintMeaning.Measured, line => line with { Feature = "bore-1", Size = 25.01m }).End("08:20");

        var setup = Assert.Single(day.Setups("09:00"));

        Assert.Equal(1, Assert.Single(setup.Measurements).Cycle);
    }

    [Fact]
    public void Quiet_only_pauses_a_setup_where_cycles_are_told_and_the_second_shift_rejoins_it()
    {
        var day = new Day().Dump("06:00", Old).Dump("16:00", "G54.X=-410 G54.Y=-205 G54.Z=-300");
        var paused = Assert.Single(day.Setups("20:00"));
        day.Dump("03-03 06:30", New).Cycle("03-03 07:00", "03-03 07:20");
        var rejoined = Assert.Single(day.Setups("03-03 08:00"));

        Assert.Equal(Judgement.WentQuiet, paused.Judged);
        Assert.Equal(Day.At("16:45"), paused.JudgedUtc);
        Assert.Null(paused.ClosedUtc);
        Assert.Equal(paused.Id, rejoined.Id);
        Assert.Equal(3, rejoined.Changes.Count);
        Assert.Equal(Day.At("03-03 07:00"), rejoined.JudgedUtc);
    }

    [Fact]
    public void What_comes_after_the_time_to_rejoin_opens_the_next_setup()
    {
        var setups = new Day().Dump("06:00", Old).Dump("07:00", New).Dump("03-05 07:01", Old).Setups("03-05 07:02");

        Assert.Equal(2, setups.Count);
        Assert.Equal(Day.At("07:45"), setups[0].ClosedUtc);
    }

    [Fact]
    public void What_comes_just_within_the_time_to_rejoin_rejoins()
    {
        Assert.Single(new Day().Dump("06:00", Old).Dump("07:00", New).Dump("03-05 07:00", Old).Setups("03-05 07:02"));
    }

    [Fact]
    public void Where_no_source_tells_cycles_quiet_closes_a_setup()
    {
        var day = new Day(tellsCycles: false).Dump("06:00", Old).Dump("07:00", New).Dump("07:46", New).Dump("11:00", Old);

        var setups = day.Setups("11:10");

        Assert.Equal(2, setups.Count);
        Assert.Equal(Day.At("07:45"), setups[0].ClosedUtc);
        Assert.Equal(Judgement.WentQuiet, setups[0].Judged);
        Assert.Null(setups[1].ClosedUtc);
    }

    [Fact]
    public void Quiet_is_judged_only_once_the_horizon_has_passed_it()
    {
        var day = new Day(tellsCycles: false).Dump("06:00", Old).Dump("07:00", New);

        Assert.Equal(Judgement.NotYet, day.Setups("07:44")[0].Judged);
        Assert.Equal(Judgement.WentQuiet, day.Setups("07:45")[0].Judged);
    }

    [Fact]
    public void A_dry_run_fifty_up_and_back_is_a_lift_and_starts_no_production()
    {
        var day = new Day().Dump("06:00", Old).Touch("07:00", "G54.X=-410 G54.Y=-205").Touch("07:05", "G54.Z=-310")
            .Dump("07:10", "G54.Z=-260").Cycle("07:15", "07:25").Dump("07:30", "G54.Z=-310").Cycle("07:35", "07:55");

        var setup = Assert.Single(day.Setups("08:00"));

        var lift = Assert.Single(setup.Lifts);
        Assert.Equal(-310m, lift.PutTo);
        Assert.True(setup.Cycles[0].UnderLift);
        Assert.False(setup.Cycles[1].UnderLift);
        Assert.Equal(Day.At("07:55"), setup.ClosedUtc);
        Assert.Equal(Day.At("07:35"), setup.JudgedUtc);
    }

    [Fact]
    public void A_lift_left_in_under_a_second_run_started_production_with_the_first()
    {
        var day = new Day().Dump("06:00", Old).Touch("07:05", "G54.Z=-310").Dump("07:10", "G54.Z=-260")
            .Cycle("07:15", "07:25").Cycle("07:26", "07:40");

        var setup = Assert.Single(day.Setups("08:00"));

        Assert.Null(Assert.Single(setup.Lifts).PutTo);
        Assert.Equal(Day.At("07:25"), setup.ClosedUtc);
    }

    [Fact]
    public void A_z_lowered_beyond_its_start_is_told_with_where_it_went()
    {
        var day = new Day().Dump("06:00", Old).Touch("07:05", "G54.Z=-310").Dump("07:10", "G54.Z=-260").Dump("07:30", "G54.Z=-315");

        Assert.Equal(-315m, Assert.Single(Assert.Single(day.Setups("07:31")).Lifts).PutTo);
    }

    [Fact]
    public void A_z_set_higher_by_an_odd_amount_is_no_lift()
    {
        Assert.Empty(new Day().Dump("06:00", Old).Dump("07:00", "G54.Z=-291.314").Setups("07:31")[0].Lifts);
    }

    [Fact]
    public void Each_pallet_has_its_own_setup()
    {
        var day = new Day().Dump("06:00", Old + " G55.X=-100 G55.Y=-100 G55.Z=-100")
            .Print("06:30", PrintMeaning.PalletChange, line => line with { Pallet = "1" })
            .Dump("07:00", New).Cycle("07:10", "07:30")
            .Print("07:31", PrintMeaning.PalletChange, line => line with { Pallet = "2" })
            .Dump("07:40", "G55.X=-110 G55.Y=-110 G55.Z=-110").Cycle("07:50", "08:10")
            .Print("08:11", PrintMeaning.PalletChange, line => line with { Pallet = "1" })
            .Cycle("08:12", "08:30");

        var setups = day.Setups("09:00");

        Assert.Equal(2, setups.Count);
        Assert.Equal(["1", "2"], setups.Select(setup => setup.Pallet));
        Assert.Equal(2, setups[0].Cycles.Count);
        Assert.Single(setups[1].Cycles);
    }

    [Fact]
    public void A_cycle_that_a_setup_opened_in_becomes_that_setups_and_closes_it_at_its_end()
    {
        var day = new Day().Dump("06:00", Old + " T5.length=100").Dump("07:00", New).Cycle("07:30", "07:50").Start("08:00")
            .Touch("08:10", "T5.length=101.5").End("08:20");

        var setups = day.Setups("09:00");

        Assert.Equal(2, setups.Count);
        Assert.Single(setups[0].Cycles);
        Assert.Equal(setups[1].Id, Assert.Single(setups[1].Cycles).Setup);
        Assert.Equal(Day.At("08:20"), setups[1].ClosedUtc);
    }

    [Fact]
    public void The_programs_in_hand_are_the_setups_programs()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New)
            .Print("07:20", PrintMeaning.Program, line => line with { Program = "O100" }).Cycle("07:30", "07:50", "O2041");

        Assert.Equal(["O100", "O2041"], day.Setups("08:00")[0].Programs);
    }

    [Fact]
    public void A_cycle_start_without_a_program_means_the_one_in_hand()
    {
        var day = new Day().Dump("06:00", Old).Dump("07:00", New)
            .Print("07:20", PrintMeaning.Program, line => line with { Program = "O100" })
            .Print("07:30", PrintMeaning.CycleStart).End("07:50");

        Assert.Equal("O100", day.Setups("08:00")[0].Cycles[0].Program);
    }

    [Fact]
    public void Without_print_outs_a_program_written_shortly_before_is_taken_for_the_setups()
    {
        var day = new Day(tellsCycles: false).Program("O2041", "02:00").Program("O9", "03-01 02:00").Dump("06:00", Old).Dump("07:00", New);

        Assert.Equal(["O2041"], day.Setups("08:00")[0].Programs);
    }

    [Fact]
    public void A_probing_program_run_on_its_own_starts_neither_cutting_nor_production()
    {
        var day = new Day().Program("O2041", "01:00").Program("O8000", "01:00", cuts: false).Dump("06:00", Old)
            .Start("07:00", "O8000").Touch("07:02", "G54.X=-410 G54.Y=-205").End("07:04")
            .Start("07:10", "O8000").Touch("07:12", "G54.Z=-310").End("07:14").Cycle("07:30", "07:50");

        var setup = Assert.Single(day.Setups("08:00"));

        Assert.Equal(Day.At("07:30"), setup.CuttingUtc);
        Assert.Equal(Day.At("07:50"), setup.ClosedUtc);
        Assert.Equal(["O2041"], setup.Programs);
    }

    [Fact]
    public void A_probing_program_run_on_its_own_after_production_opens_the_next_setup()
    {
        var day = new Day().Program("O2041", "01:00").Program("O8000", "01:00", cuts: false).Dump("06:00", Old)
            .Dump("07:00", New).Cycle("07:30", "07:50").Start("09:00", "O8000").Touch("09:02", "G54.Z=-310.1").End("09:04");

        Assert.Equal(2, day.Setups("09:10").Count);
    }

    [Fact]
    public void The_setup_before_is_handed_to_the_rules_as_it_ended()
    {
        var state = new Day().Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50").Dump("09:00", Old).State();

        Assert.Equal(Day.At("07:50"), state.Live.Values.Single().Previous?.ClosedUtc);
    }

    [Fact]
    public void A_dump_of_a_single_tool_under_the_same_name_lost_nothing()
    {
        var all = Old + " G55.X=1 G56.X=2 T1.length=1 T2.length=2 T3.length=3 T4.length=4";

        Assert.Empty(new Day().Dump("06:00", all).Dump("07:00", "T3.length=3.5").Setups("07:10")[0].MassLosses);
    }

    [Fact]
    public void Registers_that_vanish_from_a_whole_dump_are_a_mass_loss()
    {
        var all = Old + " G55.X=1 G56.X=2 T1.length=1 T2.length=2";

        var losses = new Day().Dump("06:00", all).Dump("07:00", "T1.length=1 T2.length=2").Setups("07:10")[0].MassLosses;

        Assert.Equal("registers", Assert.Single(losses).What);
    }

    [Fact]
    public void Most_registers_at_zero_together_is_a_mass_loss_and_their_return_is_told()
    {
        var day = new Day().Dump("06:00", Old + " G55.X=1 G55.Y=1 G56.X=2 G56.Y=2")
            .Dump("07:00", "G54.X=0 G54.Y=0 G54.Z=0 G55.X=0 G55.Y=0 G56.X=0 G56.Y=0")
            .Dump("08:00", Old + " G55.X=1 G55.Y=1 G56.X=2 G56.Y=2");

        var losses = day.Setups("08:10")[0].MassLosses;

        Assert.Equal([false, true], losses.Select(loss => loss.Returned));
        Assert.Equal(3, losses[0].Count);
    }

    [Fact]
    public void One_register_cleared_among_many_is_no_mass_loss()
    {
        var day = new Day().Dump("06:00", Old + " G55.X=1 G56.X=2 G57.X=3").Dump("07:00", "G54.X=0 G54.Y=0 G54.Z=0 G55.X=1 G56.X=2 G57.X=3");

        Assert.Empty(day.Setups("07:10")[0].MassLosses);
    }

    [Fact]
    public void A_clock_an_hour_off_is_told_of_the_setup_and_a_file_copied_later_is_not()
    {
        static Day With(string shareTime)
        {
            var day = new Day().Dump("06:00", Old).Dump("07:00", New);
            return day.Share("06:10", shareTime);
        }

        Assert.Contains("60 min", With("07:10").Setups("07:20")[0].ClocksDisagree, StringComparison.Ordinal);
        Assert.Null(With("06:11").Setups("07:20")[0].ClocksDisagree);
        Assert.Null(With("09:52").Setups("10:20")[0].ClocksDisagree);
    }
}
