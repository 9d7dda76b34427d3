using SetupAudit.Findings.Support;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class OverLimitTests
{
    private const string Rule = "over-limit";

    private static readonly LimitConfig HalfOfZ =
        new() { Machine = "mill-*", Register = "G5*", Axis = "Z", Change = 0.5m, Unit = Unit.Millimetre };

    private static readonly LimitConfig Wear =
        new() { Tool = "*", Of = "length-wear", Change = 0.1m, Within = TimeSpan.FromHours(12) };

    private static CaseBuilder Limited(params LimitConfig[] limits) =>
        new CaseBuilder().Held("G54", -400m, -200m, -300.0m).Held("T3.length-wear", 0m).Shop(shop => shop with { Limits = limits });

    [Fact]
    public void A_change_beyond_its_limit_is_found()
    {
        var finding = Assert.Single(Limited(HalfOfZ).Changed("G54.Z", "07:05", "07:10", -300.6m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/over-limit/G54.Z", finding.Id);
        Assert.Equal((Severity.High, -0.6m, 0.5m), (finding.Severity, finding.Value, finding.Expected));
        Assert.Equal(
            "Z of G54 moved by -0.6 mm (from -300.0 to -300.6 mm) by 2026-03-02 07:10, beyond the limit of 0.5 mm.",
            finding.Message);
        Assert.Equal(When.At("07:10"), finding.AtUtc);
    }

    [Fact]
    public void A_change_of_just_the_limit_is_within_it() =>
        Assert.Empty(Limited(HalfOfZ).Changed("G54.Z", "07:05", "07:10", -300.5m).Found(Rule));

    [Fact]
    public void A_first_sight_never_counts() =>
        Assert.Empty(Limited(HalfOfZ).Changed("G56.Z", "07:05", "07:10", -300.5m).Found(Rule));

    [Theory]
    [InlineData("G54.X")]
    [InlineData("COMMON.Z")]
    [InlineData("T3.length")]
    public void Another_axis_register_or_tool_is_not_meant(string key) =>
        Assert.Empty(Limited(HalfOfZ).Held(key, 0m).Changed(key, "07:05", "07:10", 10m).Found(Rule));

    [Fact]
    public void Another_machine_is_not_meant() =>
        Assert.Empty(Limited(HalfOfZ with { Machine = "lathe-*" }).Changed("G54.Z", "07:05", "07:10", -301m).Found(Rule));

    [Fact]
    public void The_first_limit_that_matches_wins() =>
        Assert.Empty(Limited(HalfOfZ with { Register = "G54", Change = 2m }, HalfOfZ)
            .Changed("G54.Z", "07:05", "07:10", -301m).Found(Rule));

    [Fact]
    public void The_unit_is_turned_exactly()
    {
        var inch = HalfOfZ with { Change = 0.02m, Unit = Unit.Inch };
        Assert.Empty(Limited(inch).Changed("G54.Z", "07:05", "07:10", -300.508m).Found(Rule));
        Assert.Single(Limited(inch).Changed("G54.Z", "07:05", "07:10", -300.509m).Found(Rule));
    }

    [Fact]
    public void On_an_inch_machine_a_limit_in_millimetres_is_exact_too()
    {
        var limit = HalfOfZ with { Change = 0.254m };
        Assert.Empty(Limited(limit).Inch().Changed("G54.Z", "07:05", "07:10", -300.01m).Found(Rule));
        Assert.Single(Limited(limit).Inch().Changed("G54.Z", "07:05", "07:10", -300.0101m).Found(Rule));
    }

    [Fact]
    public void A_limit_in_millimetres_says_nothing_of_degrees() =>
        Assert.Empty(Limited(HalfOfZ with { Axis = "*" }).Held("G54.B", 0m).Changed("G54.B", "07:05", "07:10", 90m).Found(Rule));

    [Fact]
    public void A_limit_while_running_does_not_bind_a_setup() =>
        Assert.Empty(Limited(HalfOfZ with { Applies = LimitApplies.Running }).Changed("G54.Z", "07:05", "07:10", -301m).Found(Rule));

    [Fact]
    public void A_limit_while_running_binds_what_is_adjusted_in_production() =>
        Assert.EndsWith("beyond the limit of 0.1 mm while production runs.",
            Assert.Single(Limited(HalfOfZ with { Applies = LimitApplies.Running, Change = 0.1m })
                .Adjusted("G54.Z", "09:05", "09:10", -300.2m).Found(Rule)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_change_too_large_for_an_adjustment_counts_as_running_where_the_job_goes_on()
    {
        CaseBuilder Resumed(string program, string ended) => Limited(HalfOfZ with { Applies = LimitApplies.Running }).Program(program)
            .Changed("G54.Z", "06:58", "07:00", -300.6m)
            .Previous(before => before.Cycle("O2041", "06:40", ended).ClosedAt("06:20"));
        Assert.Single(Resumed("O2041", "06:50").Found(Rule));
        Assert.Empty(Resumed("O7", "06:50").Found(Rule));
        Assert.Empty(Resumed("O2041", "06:14").Found(Rule));
    }

    [Fact]
    public void Wear_trimmed_in_steps_adds_up_within_the_time()
    {
        var finding = Assert.Single(Limited(Wear)
            .Adjusted("T3.length-wear", "08:00", "08:10", 0.04m).Adjusted("T3.length-wear", "10:00", "10:10", 0.08m)
            .Adjusted("T3.length-wear", "12:00", "12:10", 0.12m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/over-limit/T3.length-wear", finding.Id);
        Assert.Equal((3, Datums.ToolPart.LengthWear, 0.12m), (finding.Tool, finding.Of, finding.Value));
        Assert.Equal(
            "Length wear of tool 3 moved by 0.12 mm in all within 12 h up to 2026-03-02 12:10 (3 changes), beyond the limit of "
            + "0.1 mm.", finding.Message);
        Assert.Equal(3, finding.Evidence.Count);
    }

    [Fact]
    public void Wear_trimmed_over_a_longer_time_does_not_add_up() =>
        Assert.Empty(Limited(Wear)
            .Adjusted("T3.length-wear", "03-01 08:00", "03-01 08:10", 0.06m)
            .Adjusted("T3.length-wear", "08:00", "08:10", 0.12m).Found(Rule));

    [Fact]
    public void Wear_trimmed_there_and_back_does_not_add_up() =>
        Assert.Empty(Limited(Wear)
            .Adjusted("T3.length-wear", "08:00", "08:10", 0.06m).Adjusted("T3.length-wear", "10:00", "10:10", 0m)
            .Adjusted("T3.length-wear", "12:00", "12:10", 0.06m).Found(Rule));

    [Fact]
    public void A_sum_runs_on_from_the_setup_before() =>
        Assert.Equal(0.12m, Assert.Single(Limited(Wear).Recent("T3.length-wear", "06:00", -0.06m, 0m)
            .Adjusted("T3.length-wear", "08:00", "08:10", 0.06m).Found(Rule)).Value);

    [Fact]
    public void A_sum_that_stays_beyond_the_limit_is_told_once() =>
        Assert.Single(Limited(Wear).Adjusted("T3.length-wear", "08:00", "08:10", 0.12m)
            .Adjusted("T3.length-wear", "09:00", "09:10", 0.14m).Found(Rule));

    [Fact]
    public void What_was_lost_with_the_memory_is_another_rule() =>
        Assert.Empty(Limited(HalfOfZ).Changed("G54.Z", "07:05", "07:10", 0m).Lost("07:10", "registers", 5, 6).Found(Rule));

    [Theory]
    [InlineData(LimitDirection.Up, 0.2, true)]
    [InlineData(LimitDirection.Up, -0.2, false)]
    [InlineData(LimitDirection.Down, -0.2, true)]
    [InlineData(LimitDirection.Down, 0.2, false)]
    public void A_limit_one_way_leaves_the_other_free(LimitDirection way, double to, bool found)
    {
        var limit = new LimitConfig { Tool = "3", Of = "length-wear", Change = 0.1m, Direction = way };
        Assert.Equal(found, Limited(limit).Changed("T3.length-wear", "07:05", "07:10", (decimal)to).Found(Rule).Count == 1);
    }

    [Fact]
    public void A_limit_one_way_says_which() =>
        Assert.Equal(
            "Length wear of tool 3 moved by 0.2 mm (from 0 to 0.2 mm) by 2026-03-02 07:10, beyond the limit of 0.1 mm upwards.",
            Assert.Single(Limited(new LimitConfig { Tool = "3", Change = 0.1m, Direction = LimitDirection.Up })
                .Changed("T3.length-wear", "07:05", "07:10", 0.2m).Found(Rule)).Message);

    [Fact]
    public void A_sum_one_way_is_the_largest_run_that_way()
    {
        CaseBuilder Trimmed(LimitDirection way) => Limited(Wear with { Direction = way })
            .Adjusted("T3.length-wear", "08:00", "08:10", -0.12m).Adjusted("T3.length-wear", "10:00", "10:10", -0.04m);
        Assert.Empty(Trimmed(LimitDirection.Up).Found(Rule));
        Assert.Equal(-0.12m, Assert.Single(Trimmed(LimitDirection.Down).Found(Rule)).Value);
    }

    private static readonly LimitConfig Deep =
        new() { Register = "G54", Axis = "Z", Between = new Bounds(-310m, -290m), Unit = Unit.Millimetre };

    [Fact]
    public void A_value_outside_its_bounds_is_found_with_the_range()
    {
        var finding = Assert.Single(Limited(Deep).Changed("G54.Z", "07:05", "07:10", -310.001m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/over-limit/G54.Z/stands", finding.Id);
        Assert.Equal((-310.001m, new Bounds(-310m, -290m)), (finding.Value, finding.ExpectedRange));
        Assert.Equal("Z of G54 stands at -310.001 mm since 2026-03-02 07:10, outside the limits of -310 to -290 mm.",
            finding.Message);
    }

    [Theory]
    [InlineData(-310)]
    [InlineData(-290)]
    public void A_value_on_its_bound_is_within(int value) =>
        Assert.Empty(Limited(Deep).Changed("G54.Z", "07:05", "07:10", value).Found(Rule));

    [Fact]
    public void Bounds_are_turned_exactly()
    {
        var inch = Deep with { Between = new Bounds(-12m, -11m), Unit = Unit.Inch };
        Assert.Empty(Limited(inch).Changed("G54.Z", "07:05", "07:10", -304.8m).Found(Rule));
        Assert.Single(Limited(inch).Changed("G54.Z", "07:05", "07:10", -304.8001m).Found(Rule));
    }

    [Fact]
    public void A_value_that_stays_outside_is_told_once_and_again_when_it_crosses() =>
        Assert.Equal([-311m, -280m], Limited(Deep).Changed("G54.Z", "07:05", "07:10", -311m)
            .Changed("G54.Z", "07:15", "07:20", -312m).Changed("G54.Z", "07:25", "07:30", -280m)
            .Found(Rule).Select(finding => finding.Value ?? 0m));

    [Fact]
    public void A_value_that_stood_outside_before_was_told_before() =>
        Assert.Empty(Limited(Deep).Held("G54.Z", -320m).Changed("G54.Z", "07:05", "07:10", -321m).Found(Rule));

    [Fact]
    public void A_value_first_seen_in_a_setup_may_be_outside_too() =>
        Assert.Single(Limited(Deep with { Register = "*" }).Changed("G56.Z", "07:05", "07:10", -320m).Found(Rule));

    [Fact]
    public void A_limit_of_setting_up_does_not_bind_production()
    {
        var setup = HalfOfZ with { Applies = LimitApplies.Setup, Change = 0.1m };
        Assert.Empty(Limited(setup).Adjusted("G54.Z", "09:05", "09:10", -300.2m).Found(Rule));
        Assert.EndsWith("beyond the limit of 0.1 mm while setting up.",
            Assert.Single(Limited(setup).Changed("G54.Z", "07:05", "07:10", -300.2m).Found(Rule)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_limit_in_degrees_is_for_axes_that_turn()
    {
        var turned = new LimitConfig { Register = "*", Change = 1m, Unit = Unit.Degree };
        Assert.Single(Limited(turned).Held("G54.B", 0m).Changed("G54.B", "07:05", "07:10", 1.5m).Found(Rule));
        Assert.Empty(Limited(turned).Changed("G54.Z", "07:05", "07:10", -310m).Found(Rule));
    }
}
