using System.Collections.Concurrent;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Shares;

public sealed class ShareWatcherTests
{
    // Only to end a test that hangs; nothing is measured by it.
    private static readonly TimeSpan TooLong = TimeSpan.FromSeconds(30);

    [Fact]
    public void A_share_that_hangs_blocks_nobody_else_and_does_not_keep_the_service_from_stopping()
    {
        var clock = new HandClock();
        using var hangs = new ManualResetEventSlim();
        using var isHanging = new ManualResetEventSlim();
        var share = new MemoryShare(clock);
        share.Make("dead", EntryKind.Folder);
        share.Make("live", EntryKind.Folder);
        share.Write("live/a.nc", "1", new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc));
        var cancel = Cancel;
        share.Before = (call, name) =>
        {
            if (call != "list" || name != "dead/") return;
            isHanging.Set();
            hangs.Wait(TooLong, cancel);
        };
        using var intake = new Waiter();
        var watcher = new ShareWatcher([Source("dead", 0), Source("live", 1)], share, clock, intake);
        watcher.Start();

        Assert.True(isHanging.Wait(TooLong, Cancel));
        Assert.True(intake.Found.Wait(TooLong, Cancel));
        clock.Advance(20);
        // Its thread may be held up in a call while the clock moves; the call ends though the other share hangs on.
        Assert.True(SpinWait.SpinUntil(() => watcher.Statuses[1].Fault is null, TooLong));
        var statuses = watcher.Statuses;
        hangs.Set();
        watcher.Dispose();

        Assert.StartsWith("the share has not answered for ", statuses[0].Fault, StringComparison.Ordinal);
        Assert.Null(statuses[1].Fault);
    }

    [Fact]
    public void It_polls_by_the_clock_until_it_is_stopped()
    {
        var clock = new HandClock();
        var share = new MemoryShare(clock);
        share.Make("live", EntryKind.Folder);
        using var intake = new Waiter();
        var watcher = new ShareWatcher([Source("live", 0)], share, clock, intake);
        watcher.Start();
        Assert.True(intake.Scanned.Wait(TooLong, Cancel));
        share.Write("live/a.nc", "1");

        // Each turn lets the worker come to its wait before the clock moves on: the one timer besides its own is ours.
        for (var i = 0; i < 10 && !intake.Found.IsSet; i++)
        {
            Assert.True(SpinWait.SpinUntil(() => clock.Timers == 2 || intake.Found.IsSet, TooLong));
            clock.Advance(2);
        }

        Assert.True(intake.Found.Wait(TooLong, Cancel));
        watcher.Dispose();
        var scans = intake.Scans;
        clock.Advance(60);
        Assert.Equal(scans, intake.Scans);
    }

    [Fact]
    public void What_one_folder_takes_in_makes_the_others_of_its_machine_look_without_waiting_for_their_poll()
    {
        var clock = new HandClock();
        var share = new MemoryShare(clock);
        share.Make("one", EntryKind.Folder);
        share.Make("two", EntryKind.Folder);
        using var intake = new Waiter();
        var watcher = new ShareWatcher([Source("one", 0), Source("two", 1)], share, clock, intake);
        // Taken in only when the other folder has ended its scan of the same poll, so that it must look once more.
        intake.Before = () => SpinWait.SpinUntil(() => intake.ScansOf("two") >= 3, TooLong);
        watcher.Start();
        // Both wait for their poll, and the watcher has a timer of its own.
        Assert.True(SpinWait.SpinUntil(() => clock.Timers == 3 && intake.Scans == 2, TooLong));
        share.Write("one/a.nc", "1");
        clock.Advance(2);
        Assert.True(SpinWait.SpinUntil(() => clock.Timers == 3 && intake.Scans == 4, TooLong));
        clock.Advance(2);
        Assert.True(intake.Found.Wait(TooLong, Cancel));
        Assert.True(SpinWait.SpinUntil(() => clock.Timers == 3 && intake.Scans >= 6, TooLong));
        // The folder that took nothing in was scanned at the start and at two polls. Less than a poll in all; how soon a
        // thread comes to its wait is nobody's to say.
        for (var step = 0; step < 6 && intake.ScansOf("two") < 4; step++)
        {
            clock.Advance(0.3);
            SpinWait.SpinUntil(() => intake.ScansOf("two") >= 4, TimeSpan.FromSeconds(2));
        }

        Assert.True(intake.ScansOf("two") >= 4);
        watcher.Dispose();
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static ShareSource Source(string folder, int index) => new("mill-3", new WatchConfig
    {
        Index = index,
        Folder = folder,
        FullFolder = $"{MemoryShare.Root}/{folder}",
        Files = "*.nc",
        Read = SourceKind.DataSetting,
    });

    private sealed class Waiter : IIntake, IDisposable
    {
        private readonly ConcurrentDictionary<string, int> _ofFolder = new(StringComparer.Ordinal);
        private int _scans;

        public ManualResetEventSlim Found { get; } = new();

        public ManualResetEventSlim Scanned { get; } = new();

        /// <summary>Called before something is taken in.</summary>
        public Action? Before { get; set; }

        public int Scans => _scans;

        public int ScansOf(string folder) => _ofFolder.GetValueOrDefault(folder);

        public IReadOnlyList<Position> Positions(ShareSource source) => [];

        public void TakeIn(ScanBatch batch, CancellationToken cancel)
        {
            if (batch.Found.Count == 0) return;
            Before?.Invoke();
            Found.Set();
        }

        public void Ended(ScanReport report)
        {
            _ofFolder.AddOrUpdate(report.Source.Watch.Folder, 1, (_, count) => count + 1);
            Interlocked.Increment(ref _scans);
            Scanned.Set();
        }

        public void Dispose()
        {
            Found.Dispose();
            Scanned.Dispose();
        }
    }
}
