namespace SetupAudit.Shares;

public sealed class ShareWorkerTests : IDisposable
{
    private readonly ShareBench _bench = new();
    private readonly ShareWorker _worker;

    public ShareWorkerTests() => _worker = new ShareWorker(_bench.Source, _bench.Share, _bench.Clock, _bench);

    [Fact]
    public void It_looks_again_after_poll_or_when_a_young_file_may_be_ready()
    {
        Assert.Equal(TimeSpan.FromSeconds(2), _worker.Step(CancellationToken.None));
        _bench.Share.Write("a.nc", "1");
        _bench.Clock.Advance(0.5);
        Assert.Equal(TimeSpan.FromSeconds(2), _worker.Step(CancellationToken.None));
        _bench.Clock.Advance(1.5);
        Assert.Equal(TimeSpan.FromSeconds(0.5), _worker.Step(CancellationToken.None));
        _bench.Clock.Advance(0.5);
        _worker.Step(CancellationToken.None);

        Assert.Equal(["1"], _bench.Texts);
    }

    [Fact]
    public void It_waits_longer_and_longer_for_a_share_in_fault_and_no_longer_than_half_a_minute()
    {
        _bench.Share.Before = (_, _) => throw MemoryShare.Fault(MemoryShare.Estale);
        var waits = Enumerable.Range(0, 7).Select(_ => _worker.Step(CancellationToken.None).TotalSeconds).ToList();
        _bench.Share.Before = (_, _) => { };

        double[] most = [2, 4, 8, 16, 30, 30, 30];
        Assert.All(waits.Zip(most), pair => Assert.InRange(pair.First, pair.Second * 0.75, pair.Second));
        Assert.Equal(2, _worker.Step(CancellationToken.None).TotalSeconds);
    }

    [Fact]
    public void Two_folders_of_a_server_that_came_back_do_not_ask_it_at_the_same_moment()
    {
        using var other = new ShareWorker(
            _bench.Source with { Machine = "mill-4" }, _bench.Share, _bench.Clock, _bench);
        _bench.Share.Before = (_, _) => throw MemoryShare.Fault(MemoryShare.Estale);

        Assert.All(Enumerable.Range(0, 7), _ =>
            Assert.NotEqual(_worker.Step(CancellationToken.None), other.Step(CancellationToken.None)));
    }

    [Fact]
    public void Its_status_says_what_is_wrong_and_since_when_nothing_was_clean()
    {
        _worker.Step(CancellationToken.None);
        var clean = _bench.Clock.GetUtcNow();
        _bench.Clock.Advance(5);
        _bench.Share.Before = (_, _) => throw new DirectoryNotFoundException();
        _worker.Step(CancellationToken.None);

        Assert.Equal(clean, _worker.Status.LastCleanUtc);
        Assert.Equal("the folder is not there", _worker.Status.Fault);
        Assert.Equal(_worker.Status.Fault, _bench.Reports[^1].Fault);
    }

    [Fact]
    public void A_store_that_fails_is_a_fault_and_the_files_come_again()
    {
        _bench.Share.Write("a.nc", "1");
        _bench.Clock.Advance(60);
        _bench.BeforeTakeIn = _ => throw new InvalidOperationException("the disk is full");
        _worker.Step(CancellationToken.None);
        Assert.Equal("what was found could not be taken in: the disk is full", _worker.Status.Fault);

        _bench.BeforeTakeIn = _ => { };
        _worker.Step(CancellationToken.None);
        _bench.Clock.Advance(4);
        _worker.Step(CancellationToken.None);

        Assert.Equal(["1"], _bench.Texts);
        Assert.Null(_worker.Status.Fault);
    }

    [Fact]
    public void A_call_that_does_not_come_back_shows_in_the_status()
    {
        string? fault = null;
        _bench.Share.Before = (call, _) =>
        {
            if (call != "list") return;
            _bench.Clock.Advance(34);
            fault = _worker.Status.Fault;
        };
        _worker.Step(CancellationToken.None);

        Assert.Equal("the share has not answered for 34 s", fault);
        Assert.Null(_worker.Status.Fault);
    }

    public void Dispose() => _worker.Dispose();
}
