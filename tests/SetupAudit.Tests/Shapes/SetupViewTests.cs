using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

public sealed class SetupViewTests
{
    private static CaseBuilder Job() => new CaseBuilder()
        .Held("G54", -410.2m, -205.1m, -318.204m)
        .Held("G59", -1m, -2m, -3m)
        .Program("O2041", program => program.Cuts("G54").Tool(3, 3).Title("PUMP COVER"))
        .Touched("G54.X", "07:13", -398.112m)
        .Touched("G54.Y", "07:14", -205.1m);

    [Fact]
    public void What_was_changed_or_touched_is_set_and_the_rest_is_not()
    {
        var view = View(Job().CuttingAt("07:30"));

        Assert.Equal((true, ChangedBy.Measured), (Offset(view, "G54", Axis.X).Set, Offset(view, "G54", Axis.X).By));
        Assert.Equal((-410.2m, -398.112m), (Offset(view, "G54", Axis.X).Before, Offset(view, "G54", Axis.X).After));
        Assert.True(Offset(view, "G54", Axis.Y).Set);
        Assert.False(Offset(view, "G54", Axis.Z).Set);
        Assert.Null(Offset(view, "G54", Axis.Z).By);
        Assert.True(Offset(view, "G54", Axis.Z).Needed);
    }

    [Fact]
    public void What_was_mended_after_cutting_began_is_set_late_and_shown_as_it_was_left()
    {
        var z = Offset(View(Job().Touched("G54.Z", "07:33", -317.9m).CuttingAt("07:30").ClosedAt("07:59")), "G54", Axis.Z);

        Assert.Equal((true, true, -317.9m), (z.Set, z.Late, z.After));
        Assert.Equal(When.At("07:33"), z.SinceUtc);
    }

    [Fact]
    public void What_a_later_dump_shows_may_have_been_set_in_time()
    {
        var z = Offset(View(Job().Changed("G54.Z", "07:20", "07:40", -317.9m).CuttingAt("07:30")), "G54", Axis.Z);

        Assert.Equal((true, false), (z.Set, z.Late));
    }

    [Fact]
    public void A_value_lifted_after_its_touch_stands_by_what_lifted_it()
    {
        var day = new Day().Dump("06:00", "G54.X=-400 G54.Y=-200 G54.Z=-300").Touch("07:00", "G54.Z=-310")
            .Dump("07:10", "G54.Z=-260");
        var setup = Assert.Single(day.Setups("07:11"));

        var z = Offset(SetupView.Of(day.Machine, setup, [], []), "G54", Axis.Z);

        Assert.Equal((true, ChangedBy.Unknown, -260m), (z.Set, z.By, z.After));
    }

    [Fact]
    public void A_touch_that_met_no_surface_sets_nothing() =>
        Assert.False(Offset(View(Job().Touched("G54.Z", "07:18", missed: true).CuttingAt("07:30")), "G54", Axis.Z).Set);

    [Fact]
    public void A_register_that_nothing_is_said_about_is_left_out_of_the_head() =>
        Assert.Equal(["G54"], View(Job()).Registers.Select(register => register.Register.ToString()));

    [Fact]
    public void A_common_offset_is_shown_where_it_is_not_zero()
    {
        Assert.DoesNotContain(View(Job().Held("COMMON.Z", 0m)).Registers, register => register.Register.IsCommon);
        Assert.Contains(View(Job().Held("COMMON.Z", 25m)).Registers, register => register.Register.IsCommon);
    }

    [Fact]
    public void A_register_that_a_finding_is_about_is_shown()
    {
        var finding = new Finding
        {
            Id = "x",
            Rule = "fixed-moved",
            Severity = Severity.Stop,
            Machine = "mill-3",
            Message = "x",
            AtUtc = When.At("07:30"),
            Register = CaseBuilder.Register("G59"),
            Evidence = [new SourceLine("f", "s", 1)],
        };

        Assert.Contains(View(Job(), finding).Registers, register => register.Register.ToString() == "G59");
    }

    [Fact]
    public void An_axis_that_only_the_sheet_names_is_needed_and_shown_without_a_value()
    {
        var view = View(new CaseBuilder().Program("O2041", program => program.Cuts("G54", "XY").Sheet(sheet => sheet with
        {
            Datums = [new SheetDatum { Register = CaseBuilder.Register("G54"), Axes = [Axis.X, Axis.Y, Axis.Z] }],
        })));

        Assert.True(Offset(view, "G54", Axis.Z).Needed);
        Assert.Null(Offset(view, "G54", Axis.Z).After);
    }

    [Fact]
    public void Z_is_not_needed_where_every_tool_is_touched_on_the_part()
    {
        var view = View(Job().Machine(machine => machine with { ZFromToolLengths = true }));

        Assert.False(Offset(view, "G54", Axis.Z).Needed);
    }

    [Fact]
    public void Tools_that_the_program_calls_are_shown_also_where_no_value_is_known()
    {
        var tool = Assert.Single(View(Job()).Tools);

        Assert.Equal((3, true), (tool.Tool, tool.Called));
        Assert.Null(Assert.Single(tool.Parts).Value.After);
    }

    [Fact]
    public void It_is_not_known_whether_a_register_is_cut_in_where_a_called_program_is_missing()
    {
        var view = View(Job().Program("O7", program => program.Parks("G55").Missing("O8")));

        Assert.Null(view.Registers.First(register => register.Register.ToString() == "G55").Cuts);
        Assert.True(view.Registers.First(register => register.Register.ToString() == "G54").Cuts);
    }

    [Theory]
    [InlineData(false, null, SetupStatus.Open)]
    [InlineData(true, null, SetupStatus.Settled)]
    [InlineData(true, Severity.Low, SetupStatus.Settled)]
    [InlineData(true, Severity.High, SetupStatus.Queried)]
    [InlineData(true, Severity.Stop, SetupStatus.Queried)]
    [InlineData(false, Severity.Stop, SetupStatus.Open)]
    public void The_status_follows_from_closing_and_from_what_was_found(bool closed, Severity? severity, SetupStatus status)
    {
        var job = closed ? Job().CuttingAt("07:30").ClosedAt("07:41") : Job();
        Finding[] findings = severity is { } weight
            ? [new() { Id = "x", Rule = "r", Severity = weight, Machine = "m", Message = "x", AtUtc = When.At("07:30") }]
            : [];

        Assert.Equal(status, View(job, findings).Status);
    }

    [Fact]
    public void A_setup_that_is_judged_and_not_yet_closed_is_queried_by_a_grave_finding() =>
        Assert.Equal(SetupStatus.Queried, View(Job().CuttingAt("07:30"), new Finding
        {
            Id = "x",
            Rule = "r",
            Severity = Severity.High,
            Machine = "m",
            Message = "x",
            AtUtc = When.At("07:30"),
        }).Status);

    [Fact]
    public void A_sheet_in_another_unit_is_shown_in_the_machines()
    {
        var view = View(new CaseBuilder().Inch().Program("O2041", program => program.Sheet(sheet => sheet with
        {
            Units = Unit.Millimetre,
            StockX = 101.6m,
            StockY = 25.4m,
        })));

        Assert.Equal((4m, 1m), (view.Sheets[0].StockX, view.Sheets[0].StockY));
    }

    [Fact]
    public void A_head_reads_back_the_same()
    {
        var body = ShapeBody.Of(View(Job().Lifted("G54.Z", -318.2m, -268.2m, "07:20", -318.2m, "07:28").CuttingAt("07:30")));

        Assert.Equal(body, ShapeBody.Of(ShapeBody.Read<SetupView>(body)));
    }

    private static SetupView View(CaseBuilder job, params Finding[] findings)
    {
        var built = job.Build();
        return SetupView.Of(built.Machine, built.Setup, built.Programs, findings);
    }

    private static OffsetView Offset(SetupView view, string register, Axis axis) =>
        view.Registers.First(item => item.Register.ToString() == register).Axes.First(item => item.Axis == axis).Value;
}
