using System.Data.Common;
using Serilog;
using SetupAudit.Alerts;
using SetupAudit.Metering;
using SetupAudit.People;
using SetupAudit.Shares;
using SetupAudit.Store;
using SetupAudit.Store.Stamps;

namespace SetupAudit.Auditing;

/// <summary>The loop: takes in what the shares show, derives, and keeps what differs from the record.</summary>
public sealed class Auditor(AuditOptions options, IShareFiles files, TimeProvider clock)
{
    private const string ReloadCommand = "reload";

    // How often it is looked whether a machine is due, where something waits to be derived ...
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(500);

    // ... and where nothing does: as long as a person may wait whose word lies in the inbox.
    private static readonly TimeSpan LookIdleEvery = TimeSpan.FromSeconds(2);

    // How much further the horizon must be for a machine of which nothing came: what rests on quiet is judged then.
    private static readonly TimeSpan HorizonEvery = TimeSpan.FromMinutes(1);

    private static readonly TimeSpan[] ReopenAfter =
        [TimeSpan.FromSeconds(5), TimeSpan.FromSeconds(15), TimeSpan.FromSeconds(45)];

    private readonly Handover _handover = new();
    private volatile AuditOptions _options = options;
    private volatile ShareWatcher? _watcher;
    private volatile ScanBoard? _board;
    private volatile AuditStore? _store;
    private volatile AlertRun? _telling;
    private volatile StampRun? _stamping;
    private volatile string? _storeFault;
    private readonly MemoryTrim _memory = new(clock);

    /// <summary>What it runs with now.</summary>
    public AuditOptions Options => _options;

    /// <summary>When the loop last got on.</summary>
    public Pulse Pulse { get; } = new(clock);

    /// <summary>Where each watched folder stands, while the service runs.</summary>
    public IReadOnlyList<ShareStatus> Sources => _watcher?.Statuses ?? [];

    /// <summary>How the record stands, while the service runs.</summary>
    public RecordStanding? Record => _store?.Record;

    /// <summary>Why the store failed and waits to be opened again; null where it did not.</summary>
    public string? StoreFault => _storeFault;

    /// <summary>How sending alerts stands, while the service runs; null where nobody is told.</summary>
    public SendStanding? Sending => _telling?.Standing;

    /// <summary>How time-stamping stands, while the service runs; null where nobody is asked.</summary>
    public StampStanding? Stamping => _stamping?.Standing;

    /// <summary>Up to when a machine's answering sources were read; null where that is not known.</summary>
    public DateTimeOffset? HorizonUtc(string machine) => _board?.Horizon(machine);

    /// <summary>How many arrivals of each machine wait to be read; null while no store is open.</summary>
    public async Task<IReadOnlyDictionary<string, long>?> BacklogAsync(CancellationToken token) =>
        _store is { } store ? await store.Reader.BacklogAsync(token) : null;

    /// <summary>
    /// Goes on with another configuration, from any thread: the watchers stop, what they took in is kept, and the audit
    /// begins again with it in the same process. The store must be the same.
    /// </summary>
    public void TakeOver(AuditOptions next) => _handover.Offer(next);

    /// <summary>Called each time the service has derived a machine, for tests that wait for it.</summary>
    internal Action<MachineSummary>? OnDerived { get; set; }

    /// <summary>Called with each store that is opened, for tests that stop in the middle of a write.</summary>
    internal Action<AuditStore>? OnOpened { get; set; }

    /// <summary>Takes in all that lies on the shares now, waits for what has not settled, derives, and ends.</summary>
    public async Task<AuditSummary> OnceAsync(CancellationToken token)
    {
        await using var session = await OpenAsync(token);
        await Desk(session).TakeAsync(derive: null, token);
        var reports = (await SweepAsync(session, token)).ToLookup(report => report.Source.Machine);
        var summaries = new List<MachineSummary>
        {
            await session.ReadSheetsAsync(token) with { SourceFaults = Faults(reports[SheetFindings.Sheets]) },
        };
        foreach (var machine in session.Machines)
        {
            var horizon = reports[machine].Where(report => report.Clean).Min(report => report.HorizonUtc);
            IReadOnlyList<SourceGap> gaps =
            [
                .. reports[machine].Where(report => !report.Clean)
                    .Select(report => new SourceGap(report.Source.Watch.Index, DateTimeOffset.MinValue)),
            ];
            var summary = await session.DeriveAsync(machine, horizon, gaps, token);
            summaries.Add(summary with { SourceFaults = Faults(reports[machine]) });
        }
        var sent = await new AlertRun(_options, session.Store, clock).OnceAsync(token);
        await session.StopAsync();
        Standings.Write(_options.Shop, Standings.Of(reports.SelectMany(of => of), clock.GetUtcNow()));
        var unstamped = await new StampRun(_options.Shop.Store, clock).OnceAsync(token);
        return new AuditSummary(summaries)
        {
            Sent = sent,
            Unstamped = unstamped,
            Begun = session.Store.Record is { IsNew: true } record ? record.Origin : null,
        };
    }

    /// <summary>
    /// Takes in what people handed over, and nothing else. Throws where another process holds the store.
    /// </summary>
    public async Task TakeActsAsync(CancellationToken token)
    {
        await using var session = await OpenAsync(token);
        await Desk(session).TakeAsync(machine => session.DeriveAgainAsync(machine, token), token);
        await session.StopAsync();
    }

    /// <summary>
    /// Runs until it is cancelled, and then stops where nothing is lost. A store that fails is closed and opened again;
    /// one that cannot be used is thrown.
    /// </summary>
    public async Task RunAsync(CancellationToken token)
    {
        for (var tries = 0; ; tries++)
        {
            var began = clock.GetTimestamp();
            using var turn = CancellationTokenSource.CreateLinkedTokenSource(token);
            if (_handover.Begin(turn) is { } next) (_options, tries) = (next with { Command = ReloadCommand }, 0);
            try
            {
                await RunOnceAsync(turn.Token);
                return;
            }
            catch (OperationCanceledException) when (turn.IsCancellationRequested)
            {
                // Where another configuration takes over, that has been said.
                if (token.IsCancellationRequested)
                {
                    Log.Information("Stopped watching; all that was taken in is kept");
                    return;
                }
            }
            catch (StoreException fault) when (fault.Kind != StoreFaultKind.Final)
            {
                if (clock.GetElapsedTime(began) > ReopenAfter[^1]) tries = 0;
                await WaitAsync(fault, ReopenAfter[Math.Min(tries, ReopenAfter.Length - 1)], turn.Token);
            }
            // Opening or reading the store failed, as on a full disk: nothing was begun that could be lost.
            catch (Exception fault) when (fault is DbException or IOException)
            {
                await WaitAsync(fault, ReopenAfter[Math.Min(tries, ReopenAfter.Length - 1)], turn.Token);
            }
            finally
            {
                _handover.End();
            }
            if (token.IsCancellationRequested) return;
        }
    }

    private async Task WaitAsync(Exception fault, TimeSpan wait, CancellationToken token)
    {
        Meters.Count(MetricBook.StoreFailures);
        _storeFault = fault.Message;
        // What a disk or a write says is enough; the way it came here is wanted where a statement of ours failed.
        Log.Error(fault is DbException ? fault : null,
            "The store failed, and nothing is taken in until it is opened again in {Seconds} s: {Reason}",
            wait.TotalSeconds, fault.Message);
        Pulse.Beat();
        await Task.Delay(wait, clock, token).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private async Task<AuditSession> OpenAsync(CancellationToken token)
    {
        var store = await AuditStore.OpenAsync(
            _options.Shop.Store, RecordOptions.Of(_options.Shop), clock, token);
        OnOpened?.Invoke(store);
        return await AuditSession.OpenAsync(Watched(), store, clock, token);
    }

    // Long work shows that it gets on, whoever else looks at it.
    private AuditOptions Watched() => _options with { Progress = new Relay(Pulse, _options.Progress) };

    private ActDesk Desk(AuditSession session) => new(session, new Inbox(_options.Shop.Store.Folder), clock);

    private static IReadOnlyList<string> Faults(IEnumerable<ScanReport> reports) =>
        [.. reports.Where(report => report.Fault is not null).Select(report => $"{report.Source}: {report.Fault}")];

    private async Task<IReadOnlyList<ScanReport>> SweepAsync(AuditSession session, CancellationToken token)
    {
        var sources = ShareSource.All(_options.Shop);
        var board = new ScanBoard(sources, clock);
        var queue = new TakeInQueue(session.Store, sources.Count);
        var intake = await Intake.OpenAsync(_options.Shop, sources, session.Store.Reader, queue, board, clock, token);
        var taking = queue.RunAsync();
        try
        {
            return new ShareSweep(files, clock, intake).Run(sources, token);
        }
        finally
        {
            queue.End();
            await taking;
        }
    }

    private async Task RunOnceAsync(CancellationToken token)
    {
        await using var session = await OpenAsync(token);
        var sources = ShareSource.All(_options.Shop);
        var board = new ScanBoard(sources, clock);
        var queue = new TakeInQueue(session.Store, sources.Count);
        var intake = await Intake.OpenAsync(_options.Shop, sources, session.Store.Reader, queue, board, clock, token);
        var taking = queue.RunAsync();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(token);
        var alerts = new AlertRun(_options, session.Store, clock);
        var telling = alerts.RunAsync(stop.Token);
        var stamps = new StampRun(_options.Shop.Store, clock);
        var stamping = stamps.RunAsync(stop.Token);
        var watcher = new ShareWatcher(sources, files, clock, intake);
        try
        {
            foreach (var machine in session.Machines.Prepend(SheetFindings.Sheets)) board.PutBack(machine);
            watcher.Start();
            (_watcher, _board, _store, _telling, _stamping) = (watcher, board, session.Store, alerts, stamps);
            _storeFault = null;
            Log.Information("Watching {Sources} folders of {Machines} machines",
                sources.Count, _options.Shop.Machines.Count);
            await LoopAsync(session, board, Task.WhenAny(taking, telling).Unwrap(), token);
        }
        finally
        {
            (_watcher, _board, _store, _telling, _stamping) = (null, null, null, null, null);
            // The shares first, so that nobody waits for the queue; then what it still holds.
            watcher.Dispose();
            queue.End();
            await taking;
            await stop.CancelAsync();
            await telling.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            await stamping;
            if (token.IsCancellationRequested) await session.StopAsync();
        }
    }

    private async Task LoopAsync(AuditSession session, ScanBoard board, Task taking, CancellationToken token)
    {
        var desk = Desk(session);
        desk.Tidy();
        while (!taking.IsCompleted)
        {
            token.ThrowIfCancellationRequested();
            Pulse.Beat();
            await desk.TakeAsync(machine => DeriveAsync(session, board, machine, token), token);
            if (board.IsDue(SheetFindings.Sheets))
            {
                board.Begin(SheetFindings.Sheets);
                await session.ReadSheetsAsync(token);
                foreach (var machine in session.Machines) board.PutBack(machine);
            }
            var isIdle = true;
            foreach (var machine in session.Machines.Where(one => board.IsDue(one) || IsFurther(session, board, one)))
            {
                isIdle = false;
                await DeriveAsync(session, board, machine, token);
            }
            if (isIdle && board.IsQuiet) _memory.Quiet();
            await session.Store.AnchorAsync(token);
            await Task.WhenAny(taking, board.WaitAsync(LookEvery, Rhythm.Next(clock, LookIdleEvery), token));
        }
        await taking;
    }

    private static bool IsFurther(AuditSession session, ScanBoard board, string machine) =>
        board.Horizon(machine) is { } horizon && horizon - session.HorizonUtc(machine) >= HorizonEvery;

    private async Task DeriveAsync(AuditSession session, ScanBoard board, string machine, CancellationToken token)
    {
        board.Begin(machine);
        var began = clock.GetTimestamp();
        try
        {
            var summary = await session.DeriveAsync(machine, board.Horizon(machine), board.Gaps(machine), token);
            OnDerived?.Invoke(summary);
            Count(summary, clock.GetElapsedTime(began));
            _memory.Read(summary.Read);
            if (summary.Read > 0)
                Log.Information("Read {Read} arrivals of {Machine}: {Findings} findings raised, {Withdrawn} withdrawn",
                    summary.Read, machine, summary.FindingsRaised, summary.FindingsWithdrawn);
        }
        catch (Exception fault) when (fault is not (OperationCanceledException or StoreException))
        {
            // The last line of defence: one machine's evidence must not stop the others. It is tried again with what
            // comes next.
            Log.Error(fault, "Could not derive {Machine}", machine);
        }
    }

    private static void Count(MachineSummary summary, TimeSpan took)
    {
        Meters.Took(MetricBook.Derive, took, summary.Machine);
        Meters.Count(MetricBook.Unreadable, summary.NotWhole, summary.Machine);
        Meters.Count(MetricBook.Raised, summary.FindingsRaised, summary.Machine);
        Meters.Count(MetricBook.Withdrawn, summary.FindingsWithdrawn, summary.Machine);
    }
}
