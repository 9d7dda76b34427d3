using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Tracing;

namespace SetupAudit.Reports;

public sealed class TraceTextTests
{
    private static readonly DateTimeOffset Cut = new(2026, 7, 6, 7, 5, 0, TimeSpan.Zero);

    [Fact]
    public void The_page_has_the_shops_times_and_says_where_each_change_is_shown()
    {
        var page = Page(Traced());

        Assert.Contains("trace of a bad part, mill-3, cut 2026-07-06 08:05:00\n", page, StringComparison.Ordinal);
        Assert.Contains("the cut was at 2026-07-06T07:05:00Z", page, StringComparison.Ordinal);
        Assert.Contains(
            "changed between 2026-07-06 07:00:00 and 2026-07-06 07:15:00, measured; offsets/a.nc, line 4; change c\n",
            page, StringComparison.Ordinal);
        Assert.Contains("Suspect production: 2026-07-06 07:00:00 to 2026-07-06 09:05:00\n", page, StringComparison.Ordinal);
    }

    [Fact]
    public void An_offset_that_no_change_brought_says_so()
    {
        var change = Traced().Changes[0] with { Change = null, FromUtc = null, ToUtc = null, Source = null };

        Assert.Contains("no change is recorded: it stood from before\n",
            Page(Traced() with { Changes = [change] }), StringComparison.Ordinal);
    }

    [Fact]
    public void No_known_cycles_are_no_all_clear() =>
        Assert.Contains("NOT KNOWN. This is no all-clear.", Page(Traced() with { CyclesKnown = "none" }), StringComparison.Ordinal);

    private static TraceView Traced() => new()
    {
        Machine = "mill-3",
        AtUtc = Cut,
        Changes =
        [
            new TracedChangeView
            {
                Change = "c",
                Key = OffsetKey.Datum(Register.System(1), Axis.X),
                Delta = 0.4m,
                Predicted = 0.4m,
                Residual = 0m,
                Along = "X",
                Probability = 0.9m,
                Because = "G54.X: it had been moved",
                FromUtc = Cut.AddMinutes(-65),
                ToUtc = Cut.AddMinutes(-50),
                By = ChangedBy.Measured,
                Source = new SourceLine("offsets/a.nc", new string('a', 64), 4),
            },
        ],
        FromUtc = Cut.AddMinutes(-65),
        ToUtc = Cut.AddHours(1),
        CyclesKnown = "all",
        Cycles = [],
        Unexplained = false,
        UnexplainedProbability = 0.1m,
    };

    private static string Page(TraceView trace) => TraceText.Page(trace,
        new ShopConfig { Name = "Harrow Lane Works", TimeZone = "Europe/London", Machines = [MadeUp.Mill()], Store = new StoreConfig("audit", null) },
        new PartError { ByAxis = new Dictionary<Axis, decimal> { [Axis.X] = 0.4m }, Uncertainty = 0.01m }, "mm");
}
