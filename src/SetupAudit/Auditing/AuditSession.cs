using System.Globalization;
using Serilog;
using SetupAudit.Alerts;
using SetupAudit.People;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>A store opened for auditing, with every machine's fold. One at a time has it.</summary>
internal sealed class AuditSession : IAsyncDisposable
{
    private const string Later = "evidence that came later says otherwise";

    private readonly AuditOptions _options;
    private readonly AuditStore _store;
    private readonly Dictionary<string, MachineAudit> _audits;
    private readonly Dictionary<string, MachineReading> _readings;
    private readonly HashSet<string> _otherwise = new(StringComparer.Ordinal);
    private readonly NewsDesk? _news;
    private readonly string _changed;

    private AuditSession(AuditOptions options, AuditStore store, string changed, NewsDesk? news,
        Dictionary<string, MachineAudit> audits, Dictionary<string, MachineReading> readings)
    {
        (_options, _store, _changed, _news, _audits, _readings) = (options, store, changed, news, audits, readings);
        if (news is not null) store.Alerting = news.Look;
    }

    public IEnumerable<string> Machines => _audits.Keys;

    public AuditStore Store => _store;

    /// <summary>Takes in what people ask to be kept.</summary>
    public required ActTaker Acts { get; init; }

    /// <summary>Takes the store over, also where it throws.</summary>
    public static async Task<AuditSession> OpenAsync(
        AuditOptions options, AuditStore store, TimeProvider time, CancellationToken token)
    {
        try
        {
            if (store.Damage is { } damage) Log.Error("Evidence is missing: {Damage}", damage);
            var nowUtc = time.GetUtcNow();
            var changed = Changed(await store.Reader.LatestStartAsync(token), options, nowUtc);
            await store.RecordStartAsync(
                new StartRecord(nowUtc, options.Command, options.ProgramVersion, options.ConfigurationSha256)
                {
                    Configuration = options.Configuration,
                }, token);
            var reviews = await Shelves.ReviewsAsync(store.Reader, token);
            var (audits, readings) = Rooms(options, store, reviews);
            var news = options.Shop.Alerts is { } alerts
                ? new NewsDesk(options.Shop, new AlertPolicy(alerts, options.Channels(alerts, time).Count > 0),
                    store.Reader, time)
                : null;
            var session = new AuditSession(options, store, changed, news, audits, readings)
            {
                Acts = new ActTaker(store, reviews, options.Shop, time),
            };
            await session.PrepareAsync(token);
            return session;
        }
        catch (Exception)
        {
            await store.DisposeAsync();
            throw;
        }
    }

    /// <summary>Reads the sheets that came; what they change is marked with the machines.</summary>
    public async Task<MachineSummary> ReadSheetsAsync(CancellationToken token)
    {
        var (read, notWhole) = await _readings[SheetFindings.Sheets].ReadAllAsync(token);
        await BeginAsync(SheetFindings.Sheets, token);
        var changes = read == 0 && !_otherwise.Contains(SheetFindings.Sheets)
            ? []
            : await new SheetFindings(_options.Shop, _store).RecordAsync(Reason(SheetFindings.Sheets), token);
        await DoneAsync(SheetFindings.Sheets, token);
        return Summary(SheetFindings.Sheets, read, notWhole, changes);
    }

    /// <summary>Reads what came of a machine, folds it, and records what differs.</summary>
    /// <param name="gaps">The sources that cannot be read now: what is found says that it rests on the others.</param>
    public async Task<MachineSummary> DeriveAsync(
        string machine, DateTimeOffset? horizonUtc, IReadOnlyList<SourceGap> gaps, CancellationToken token)
    {
        var (read, notWhole) = await _readings[machine].ReadAllAsync(token);
        await _audits[machine].LeaveOutAsync(gaps, token);
        await BeginAsync(machine, token);
        var changes = await _audits[machine].DeriveAsync(horizonUtc, Reason(machine), token);
        await DoneAsync(machine, token);
        return Summary(machine, read, notWhole, changes);
    }

    /// <summary>The same as of the recorded horizon and gaps: nothing was looked at anew.</summary>
    public async Task<MachineSummary> DeriveAgainAsync(string machine, CancellationToken token)
    {
        var (read, notWhole) = await _readings[machine].ReadAllAsync(token);
        await BeginAsync(machine, token);
        var changes = await _audits[machine].DeriveAsync(null, Reason(machine), token);
        await DoneAsync(machine, token);
        return Summary(machine, read, notWhole, changes);
    }

    /// <summary>Up to when a machine's recorded rows rest on what its sources showed.</summary>
    public DateTimeOffset HorizonUtc(string machine) => _audits[machine].HorizonUtc;

    /// <summary>Says in the record that the command ends as it should.</summary>
    public Task StopAsync() => _store.RecordStopAsync(_options.Command, CancellationToken.None);

    public ValueTask DisposeAsync() => _store.DisposeAsync();

    private static (Dictionary<string, MachineAudit>, Dictionary<string, MachineReading>) Rooms(
        AuditOptions options, AuditStore store, ReviewShelf reviews)
    {
        var sheets = new SheetShelf();
        var reader = new ArrivalReader(options.Shop, store.Reader);
        var audits = options.Shop.Machines.ToDictionary(machine => machine.Name, machine => new MachineAudit(
            options, machine, new Shelves(sheets, reviews), store,
            new TimeLine(machine, store.Reader, store.Reader, reader)),
            StringComparer.Ordinal);
        var all = audits.Values.ToList();
        var readings = audits.ToDictionary(pair => pair.Key, pair => new MachineReading(
            pair.Key, reader, store, store.Reader, pair.Value.Shelves, all, options.Progress), StringComparer.Ordinal);
        readings[SheetFindings.Sheets] = new MachineReading(
            SheetFindings.Sheets, reader, store, store.Reader, new Shelves(sheets, reviews), all, options.Progress);
        return (audits, readings);
    }

    private async Task PrepareAsync(CancellationToken token)
    {
        foreach (var machine in _readings.Keys)
        {
            if (await _store.Reader.IsDerivedForAsync(
                machine, _options.BasisOf(machine), _options.ProgramVersion, token))
                continue;
            _otherwise.Add(machine);
            await _store.ReadAgainAsync(machine, token);
        }
        Tell();
        var reader = new ArrivalReader(_options.Shop, _store.Reader);
        foreach (var (name, reading) in _readings) await reading.Shelves.LoadAsync(name, _store.Reader, reader, token);
        foreach (var audit in _audits.Values) await audit.LoadAsync(token);
        foreach (var machine in await _store.Reader.MachinesAsync(token))
            if (!_readings.ContainsKey(machine)) await WithdrawAllAsync(machine, token);
    }

    private void Tell()
    {
        var machines = _otherwise.Select(name => name.Length == 0 ? "the sheets" : name).Order(StringComparer.Ordinal);
        if (_otherwise.Count > 0)
            Log.Information("Deriving again from all evidence: {Machines}", string.Join(", ", machines));
        else Log.Information("All that was derived still rests on the same configuration and version");
    }

    // What the configuration takes away is withdrawn with that reason; what was taken in of it stays listed.
    private async Task WithdrawAllAsync(string machine, CancellationToken token)
    {
        if (await _store.Reader.IsDerivedForAsync(
            machine, _options.BasisOf(machine), _options.ProgramVersion, token))
            return;
        // What rests on evidence that was dropped could never be raised again: it stands.
        var line = await _store.Reader.Prunings.LineAsync(machine, token);
        await WithdrawAsync(machine, DerivedRows.FoldKinds, line?.FloorUtc ?? DateTimeOffset.MinValue, token);
        await WithdrawAsync(
            machine, new HashSet<DerivedKind> { DerivedKind.Program }, DateTimeOffset.MinValue, token);
        await MarkAsync(machine, token);
    }

    private async Task WithdrawAsync(
        string machine, IReadOnlySet<DerivedKind> kinds, DateTimeOffset fromUtc, CancellationToken token) =>
        await _store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = machine,
            ScopeFromUtc = fromUtc,
            Kinds = kinds,
            Rows = [],
            WithdrawnBecause = $"the configuration no longer names {machine}",
        }, token);

    private Task BeginAsync(string machine, CancellationToken token) => _news is null
        ? Task.CompletedTask
        : _news.BeginAsync(machine, _otherwise.Contains(machine) ? _changed : null, token);

    private async Task DoneAsync(string machine, CancellationToken token)
    {
        if (!_otherwise.Remove(machine)) return;
        await MarkAsync(machine, token);
    }

    private Task MarkAsync(string machine, CancellationToken token) => _store.MarkDerivedForAsync(
        machine, _options.BasisOf(machine), _options.ProgramVersion, token);

    private string Reason(string machine) => _otherwise.Contains(machine) ? _changed : Later;

    private static string Changed(StartRecord? before, AuditOptions options, DateTimeOffset nowUtc)
    {
        // A command that derives nothing may have started with the new configuration before.
        var what = before is null || before.ConfigurationSha256 != options.ConfigurationSha256
            || before.ProgramVersion == options.ProgramVersion
            ? "the configuration changed"
            : $"program version {options.ProgramVersion} derives it otherwise than {before.ProgramVersion}";
        return string.Create(CultureInfo.InvariantCulture, $"{what} ({nowUtc:yyyy-MM-ddTHH:mm:ssZ})");
    }

    private static MachineSummary Summary(
        string machine, int read, int notWhole, IReadOnlyList<DerivedChange> changes) => new()
        {
            Machine = machine,
            Read = read,
            NotWhole = notWhole,
            SetupsRaised = changes.Count(change => change is { Kind: DerivedKind.Setup, Step: DerivedStep.Raised }),
            FindingsRaised = changes.Count(change => change.Kind == DerivedKind.Finding
                && change.Step is DerivedStep.Raised or DerivedStep.RaisedAgain),
            FindingsWithdrawn = changes.Count(
                change => change is { Kind: DerivedKind.Finding, Step: DerivedStep.Withdrawn }),
        };
}
