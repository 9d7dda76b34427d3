using SetupAudit.Shop;

namespace SetupAudit.Shares;

public sealed class ShareSweepTests
{
    private readonly ShareBench _bench = new();

    [Fact]
    public void It_takes_what_is_settled_and_reports_each_source_in_order()
    {
        _bench.Share.Write("a.nc", "1");
        _bench.Clock.Advance(60);
        var missing = _bench.Source with
        {
            Watch = new WatchConfig
            {
                Index = 1,
                Folder = "none",
                FullFolder = "/share/none",
                Files = "*",
                Read = SourceKind.Program,
            },
        };
        _bench.Share.Before = (call, name) =>
        {
            if (call == "list" && name == "none/") throw new DirectoryNotFoundException();
        };

        var reports = Sweep([missing, _bench.Source]);

        Assert.Equal(["1"], _bench.Texts);
        Assert.Equal([false, true], reports.Select(report => report.Clean));
    }

    [Fact]
    public void It_waits_for_what_is_too_young()
    {
        _bench.Share.Write("a.nc", "1");
        using var moves = new Timer(_ => _bench.Clock.Advance(0.5), null, 20, 20);

        var report = Assert.Single(Sweep([_bench.Source]));

        Assert.Equal(["1"], _bench.Texts);
        Assert.Equal(0, report.Waiting);
    }

    [Fact]
    public void It_leaves_what_never_holds_still_and_says_so()
    {
        _bench.Share.Write("a.nc", "1");
        var size = 1;
        _bench.Share.Before = (call, _) =>
        {
            if (call == "list") _bench.Share.Write("a.nc", new string('1', size++));
        };
        using var moves = new Timer(_ => _bench.Clock.Advance(5), null, 10, 10);

        var report = Assert.Single(Sweep([_bench.Source]));

        Assert.Empty(_bench.Taken);
        Assert.Equal(1, report.Waiting);
    }

    [Fact]
    public void What_the_store_throws_comes_out_as_it_was()
    {
        _bench.Share.Write("a.nc", "1");
        _bench.Clock.Advance(60);
        _bench.BeforeTakeIn = _ => throw new InvalidOperationException("disk full");

        Assert.Equal("disk full", Assert.Throws<InvalidOperationException>(() => Sweep([_bench.Source])).Message);
    }

    private IReadOnlyList<ScanReport> Sweep(IReadOnlyList<ShareSource> sources) =>
        new ShareSweep(_bench.Share, _bench.Clock, _bench).Run(sources, CancellationToken.None);
}
