using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

public sealed class PictureTests
{
    [Fact]
    public void A_back_left_datum_has_its_stock_to_the_right_and_in_front()
    {
        var point = Points(MadeUp.Report())[0];

        Assert.Equal(new Stretch(-412.25, -302.25), point.Stock?.H);
        Assert.Equal(-203.118 - 75, point.Stock?.V.Low ?? 0, 6);
        Assert.Equal(-203.118, point.Stock?.V.High ?? 0, 6);
    }

    [Fact]
    public void The_common_offset_is_added_to_where_a_datum_lies()
    {
        var common = new RegisterView(Register.Common, null,
            [(Axis.X, new OffsetView { Before = 0m, After = 10m, Set = true, Needed = false })]);
        var head = MadeUp.Head();
        var report = MadeUp.Report() with
        {
            Setup = MadeUp.Document() with { Head = head with { Registers = [common, .. head.Registers] } },
        };

        Assert.Equal(-402.25, Points(report)[0].New?.H ?? 0, 6);
        Assert.Equal(-410, Points(report)[0].Old?.H ?? 0, 6);
    }

    [Fact]
    public void A_datum_far_beyond_the_travel_does_not_shrink_the_table()
    {
        var head = MadeUp.Head();
        var far = new RegisterView(Register.System(1), true,
        [
            (Axis.X, new OffsetView { Before = -412m, After = -412250m, Set = true, Needed = true }),
            (Axis.Y, new OffsetView { Before = -203m, After = -203m, Set = true, Needed = true }),
        ]);
        var plan = Plan.Of(MadeUp.Report() with { Setup = MadeUp.Document() with { Head = head with { Registers = [far] } } });

        Assert.Equal(new Stretch(-800, 0), plan?.BoxAcross);
    }

    [Fact]
    public void A_lathe_is_drawn_by_Z_and_X()
    {
        var plan = Plan.Of(MadeUp.Report() with { Machine = MadeUp.Mill() with { Kind = MachineKind.Lathe } });

        Assert.Equal((Axis.Z, Axis.X), (plan?.Across, plan?.Up));
    }

    [Theory]
    [InlineData(200, 200)]
    [InlineData(199, 100)]
    [InlineData(7.9, 5)]
    [InlineData(0.0021, 0.002)]
    public void A_scale_bar_has_a_round_length(double most, double length) => Assert.Equal(length, Pen.Round(most), 9);

    [Fact]
    public void Labels_keep_a_gap_and_stay_above_the_bottom()
    {
        var heights = LabelStack.Spread([50, 50, 50, 98], 10, 100);

        Assert.All(heights.Order().Zip(heights.Order().Skip(1)), pair => Assert.True(pair.Second - pair.First >= 9.999));
        Assert.True(heights.Max() <= 100);
    }

    [Fact]
    public void As_many_labels_as_have_room_stay_between_top_and_bottom()
    {
        var count = LabelStack.Room(16, 250);
        var heights = LabelStack.Spread([.. Enumerable.Repeat(100.0, count)], LabelStack.Gap(count, 16, 250), 250);

        Assert.InRange(heights.Min(), 16, 250);
    }

    [Fact]
    public void Without_travel_machine_zero_is_in_the_picture()
    {
        var mill = MadeUp.Mill() with { Travel = new Dictionary<Axis, Bounds>() };
        var plan = Plan.Of(MadeUp.Report() with { Machine = mill });

        Assert.True(plan?.BoxAcross.Holds(0) == true && plan.BoxUp.Holds(0));
        Assert.Equal(plan?.BoxAcross.Length ?? 0, plan?.BoxUp.Length ?? 1, 6);
    }

    private static IReadOnlyList<PlanPoint> Points(SetupReport report) => Plan.Of(report)?.Points ?? [];
}
