using SetupAudit.Datums;
using SetupAudit.Support;

namespace SetupAudit.Tracing;

public sealed class TracerTests
{
    private const string Old = "G54.X=-400 G54.Y=-200 G54.Z=-300 T3.length=120 T3.diameter=10";
    private const string New = "G54.X=-410 G54.Y=-205 G54.Z=-310";

    private static Day Shift() => new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New)
        .Cycle("07:30", "07:50").Cycle("08:00", "08:20").Dump("08:25", New).Dump("08:30", "G54.Z=-309.85")
        .Cycle("08:35", "08:55").Cycle("09:05", "09:25").Dump("09:30", "G54.Z=-309.85").Dump("10:00", "G54.Z=-310")
        .Cycle("10:05", "10:25");

    [Fact]
    public void The_adjustment_that_explains_the_error_is_named_with_its_window_and_its_cycles()
    {
        var trace = Run(Shift(), "09:10", Axis.Z, 0.152m);

        Assert.False(trace.Unexplained);
        Assert.Equal("mill-3@20260302-083000/G54.Z", trace.Changes[0].Change);
        Assert.Equal(0.15m, trace.Changes[0].Predicted);
        Assert.Equal(0.002m, trace.Changes[0].Residual);
        Assert.Equal(Day.At("08:25"), trace.Window?.FromUtc);
        Assert.Equal(Day.At("10:00"), trace.Window?.ToUtc);
        Assert.Equal([Day.At("08:35"), Day.At("09:05")], trace.Cycles.Select(item => item.Cycle.StartUtc));
        Assert.All(trace.Cycles, item => Assert.True(item.Certain));
        Assert.Equal(Day.At("08:00"), trace.LastGood?.StartUtc);
        Assert.Equal(Day.At("10:05"), trace.FirstAfter?.StartUtc);
    }

    [Fact]
    public void Two_wrong_offsets_are_one_window_and_only_a_part_before_both_is_good()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New)
            .Cycle("07:30", "07:50").Cycle("08:00", "08:20").Dump("08:25", New).Dump("08:30", "G54.X=-409.85")
            .Cycle("08:35", "08:55").Cycle("09:05", "09:25").Dump("09:28", "G54.X=-409.85 T3.length=120")
            .Dump("09:30", "T3.length=119.7").Cycle("10:05", "10:25");

        var trace = Run(day, "10:10", new PartError
        {
            ByAxis = new Dictionary<Axis, decimal> { [Axis.X] = 0.15m, [Axis.Z] = -0.3m },
            Tool = 3,
            Uncertainty = 0.01m,
        });

        Assert.Equal(["G54.X", "T3.length"], trace.Changes.Take(2).Select(change => change.Key.ToString()).Order());
        Assert.Equal(Day.At("08:25"), trace.Window?.FromUtc);
        Assert.Equal([Day.At("08:35"), Day.At("09:05"), Day.At("10:05")], trace.Cycles.Select(item => item.Cycle.StartUtc));
        Assert.All(trace.Cycles, item => Assert.True(item.Certain));
        Assert.Equal(Day.At("08:00"), trace.LastGood?.StartUtc);
        Assert.Null(trace.FirstAfter);
    }

    [Fact]
    public void A_question_that_may_be_wrong_is_told_so()
    {
        Assert.Contains(Run(Shift(), "09:10", Axis.Z, -0.15m).NotRecorded, text =>
            text.StartsWith("with the other sign along Z, G54.Z would explain it", StringComparison.Ordinal));
        Assert.Contains(Run(Shift(), "05:00", Axis.Z, 0.15m).NotRecorded, text =>
            text.StartsWith("no source had shown any offset", StringComparison.Ordinal));
        Assert.Contains(Run(Shift(), "12:30", Axis.Z, 0.15m).NotRecorded, text =>
            text.StartsWith("no source says anything after 2026-03-02 12:00:00Z", StringComparison.Ordinal));
        var asked = new PartError { ByAxis = new Dictionary<Axis, decimal> { [Axis.Z] = 0.15m }, Tool = 77, Uncertainty = 0.01m };
        Assert.Contains(Run(Shift(), "09:10", asked).NotRecorded, text =>
            text.StartsWith("no program of this setup calls T77", StringComparison.Ordinal));
        Assert.DoesNotContain(Run(Shift(), "09:10", Axis.Z, 0.15m).NotRecorded, text =>
            text.StartsWith("with the other sign", StringComparison.Ordinal) || text.StartsWith("no ", StringComparison.Ordinal));
    }

    [Fact]
    public void A_change_that_was_never_undone_is_suspect_to_the_latest_evidence()
    {
        var trace = Run(Shift(), "10:10", Axis.Z, -10m);

        Assert.Equal(Day.At("12:00"), trace.Window?.ToUtc);
        Assert.False(trace.Window?.Undone);
        Assert.Equal(5, trace.Cycles.Count);
    }

    [Fact]
    public void A_cycle_that_overlaps_the_interval_of_the_change_may_have_run_under_it()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New)
            .Cycle("07:30", "07:50").Cycle("08:00", "08:20").Dump("08:30", "G54.Z=-309.85").Cycle("08:35", "08:55");

        var trace = Run(day, "08:40", Axis.Z, 0.15m);

        Assert.Equal([false, false, true], trace.Cycles.Select(item => item.Certain));
    }

    [Fact]
    public void Nothing_recorded_explains_an_error_that_no_offset_predicts()
    {
        var trace = Run(Shift(), "09:10", Axis.X, 3.7m);

        Assert.True(trace.Unexplained);
        Assert.Null(trace.Window);
        Assert.Empty(trace.Cycles);
    }

    [Fact]
    public void Without_a_source_that_tells_cycles_none_are_known()
    {
        var day = new Day(tellsCycles: false).Dump("06:00", Old).Dump("07:00", New);

        var trace = Run(day, "09:00", Axis.Z, -10m);

        Assert.Equal(CyclesKnown.None, trace.CyclesKnown);
        Assert.Contains(trace.NotRecorded, says => says.Contains("no source of this machine tells cycles", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(false, 0.2)]
    [InlineData(true, -0.2)]
    public void A_cutter_diameter_too_large_makes_outside_features_larger_and_inside_ones_smaller(bool inside, double error)
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "T3.diameter=10.2").Cycle("08:10", "08:30");

        var trace = Run(day, "08:20", new PartError { Diameter = (decimal)error, Inside = inside, Tool = 3, Uncertainty = 0.01m });

        Assert.Equal("T3.diameter", trace.Changes[0].Key.ToString());
        Assert.Equal((decimal)error, trace.Changes[0].Predicted);
    }

    [Fact]
    public void A_tool_length_too_long_leaves_the_feature_high()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "T3.length=120.2").Cycle("08:10", "08:30");

        var trace = Run(day, "08:20", Axis.Z, 0.2m);

        Assert.Equal("T3.length", trace.Changes[0].Key.ToString());
        Assert.True(trace.Changes[0].Probability > 0.5m);
    }

    [Fact]
    public void A_change_too_large_for_an_adjustment_hides_nothing_of_the_job_that_goes_on()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "G54.Z=-309.85").Cycle("08:05", "08:25").Dump("08:30", "T3.length=121.3").Cycle("08:35", "08:55");

        var tweaked = Run(day, "08:40", Axis.Z, 0.15m);
        var measured = Run(day, "08:40", Axis.Z, 1.3m);

        Assert.Equal("mill-3@20260302-080000/G54.Z", tweaked.Changes[0].Change);
        Assert.False(tweaked.Unexplained);
        Assert.Equal("mill-3@20260302-083000/T3.length", measured.Changes[0].Change);
        Assert.True(measured.Changes[0].Probability > 0.98m);
    }

    [Fact]
    public void A_large_change_while_parts_ran_is_suspected_more_than_a_usual_correction()
    {
        Assert.True(Corrected(0.2m).UnexplainedProbability < Corrected(0.02m).UnexplainedProbability / 5);

        // Misses by as much either time.
        static Trace Corrected(decimal by) => Run(new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New)
            .Cycle("07:30", "07:50").Dump("08:00", FormattableString.Invariant($"G54.Z={-310 + by}"))
            .Cycle("08:05", "08:25"), "08:10", Axis.Z, by + 0.015m);
    }

    [Fact]
    public void Two_changes_together_may_explain_what_neither_does_alone()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "T3.length=120.12").Dump("08:05", "G54.Z=-309.8").Cycle("08:10", "08:30");

        var trace = Run(day, "08:20", Axis.Z, 0.32m);

        Assert.Equal(["G54.Z", "T3.length"], trace.Changes.Take(2).Select(item => item.Key.ToString()).Order(StringComparer.Ordinal));
        Assert.All(trace.Changes.Take(2), item => Assert.Equal(0m, item.Residual));
    }

    [Fact]
    public void A_change_that_only_a_later_dump_shows_may_have_stood_when_the_part_was_cut()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Cycle("08:00", "08:20").Cycle("08:30", "08:50").Dump("09:00", "G54.Z=-309.85");

        var trace = Run(day, "08:40", Axis.Z, 0.152m);

        Assert.Equal("mill-3@20260302-090000/G54.Z", trace.Changes[0].Change);
        Assert.Equal(Day.At("07:00"), trace.Window?.FromUtc);
        Assert.Equal([false, false, false], trace.Cycles.Select(item => item.Certain));
    }

    [Fact]
    public void A_trim_that_leaves_the_value_wrong_neither_begins_nor_ends_the_window()
    {
        var day = new Day().Program("O2041", "01:00").Dump("06:00", Old).Dump("07:00", New).Cycle("07:30", "07:50")
            .Dump("08:00", "G54.Z=-309.8").Cycle("08:05", "08:20").Dump("08:25", "G54.Z=-309.81").Cycle("08:30", "08:50")
            .Dump("08:55", "G54.Z=-309.82").Cycle("09:00", "09:20").Dump("09:25", "G54.Z=-310");

        var trace = Run(day, "08:40", Axis.Z, 0.19m);

        Assert.Equal(Day.At("07:00"), trace.Window?.FromUtc);
        Assert.Equal(Day.At("09:25"), trace.Window?.ToUtc);
        Assert.Equal([Day.At("07:30"), Day.At("08:05"), Day.At("08:30"), Day.At("09:00")],
            trace.Cycles.Select(item => item.Cycle.StartUtc));
    }

    [Fact]
    public void A_datum_within_its_usual_spread_is_not_blamed_for_an_error_that_spread_would_hold()
    {
        var day = new Day().Program("O2041", "01:00").Dump("02-20 06:00", Old);
        foreach (var (at, z) in new[] { (21, -310.06), (22, -309.95), (23, -310.05), (24, -309.94), (25, -310.01), (26, -309.97) })
            day.Dump($"02-{at} 05:00", "G54.X=-500 G54.Y=-100 G54.Z=-200").Dump($"02-{at} 07:00", FormattableString.Invariant(
                $"G54.X=-410 G54.Y=-205 G54.Z={z}")).Cycle($"02-{at} 07:30", $"02-{at} 07:50");

        var trace = Run(day, "02-26 07:45", Axis.Z, 0.06m);

        Assert.True(trace.Unexplained);
    }

    private static Trace Run(Day day, string time, Axis axis, decimal error) =>
        Run(day, time, new PartError { ByAxis = new Dictionary<Axis, decimal> { [axis] = error }, Uncertainty = 0.01m });

    private static Trace Run(Day day, string time, PartError error)
    {
        var derivation = day.Derivation();
        var moment = Day.At(time);
        var state = day.Sightings.OrderBy(sighting => sighting.AtUtc).TakeWhile(sighting => sighting.AtUtc <= moment)
            .Aggregate(derivation.Start(), derivation.Fold);
        var all = day.Settled("12:00");
        return derivation.Trace(state, null, error, moment,
            [.. all.Changes.Concat(all.Setups.SelectMany(item => item.Setup.Changes.Concat(item.Setup.Adjustments))).OrderBy(change => change.ToUtc)],
            [.. all.Setups.SelectMany(item => item.Setup.Cycles.Where(cycle => cycle.Setup == item.Setup.Id)).OrderBy(cycle => cycle.StartUtc)],
            Day.At("12:00"));
    }
}
