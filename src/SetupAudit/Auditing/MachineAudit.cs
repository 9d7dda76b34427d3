using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// One machine's fold, kept going: forward over what is new, or wound back to before the first thing that came late and
/// forward again. What it brings forth is compared with the record, and the differences are appended.
/// </summary>
internal sealed class MachineAudit
{
    private readonly ShopConfig _shop;
    private readonly MachineConfig _machine;
    private readonly AuditStore _store;
    private readonly Derivation _derivation;
    private readonly DerivedRows _rows;
    private readonly TimeLine _timeLine;
    private readonly KeptStates _kept;
    private readonly Checkpoints _checkpoints = new();
    private readonly IProgress<AuditProgress>? _progress;
    private readonly FoldLimits _limits;
    private MachineState? _state;
    private MachineState? _boundary;
    private DateTimeOffset _fromUtc;
    private DateTimeOffset _horizonUtc;
    private SourceGaps _gaps = SourceGaps.None;
    private long _folded;
    private long _foldedAtKept;

    public MachineAudit(
        AuditOptions options, MachineConfig machine, Shelves shelves, AuditStore store, TimeLine timeLine)
    {
        (_shop, _machine, _store, _timeLine) = (options.Shop, machine, store, timeLine);
        Shelves = shelves;
        (_progress, _limits) = (options.Progress, options.Limits);
        _derivation = new Derivation(_shop, machine, shelves.Programs, shelves.Sheets, shelves.ToLoad,
            shelves.Reviews);
        _rows = new DerivedRows(machine);
        _kept = new KeptStates(machine, store, timeLine.Evidence);
    }

    public MachineConfig Machine => _machine;

    public Shelves Shelves { get; }

    /// <summary>When each program was first asked for, as far as is folded.</summary>
    public IReadOnlyDictionary<string, DateTimeOffset> FirstAsked =>
        _state?.FirstAsked ?? (IReadOnlyDictionary<string, DateTimeOffset>)new Dictionary<string, DateTimeOffset>();

    /// <summary>Up to when the sources are known to have been read, as the rows recorded last rest on it.</summary>
    public DateTimeOffset HorizonUtc => _horizonUtc;

    /// <summary>Takes up the latest kept state that has seen nothing of what must be folded again.</summary>
    public async Task LoadAsync(CancellationToken token)
    {
        var dirty = await _store.Reader.DirtyAsync(_machine.Name, token);
        if (dirty is not null) await _kept.ForgetFromAsync(dirty.From, token);
        Take(await _kept.BeforeAsync(dirty?.From, token) ?? _derivation.Start());
        _horizonUtc = await _store.Reader.HorizonAsync(_machine.Name, token) ?? DateTimeOffset.MinValue;
        _gaps = new SourceGaps(await _store.Reader.GapsAsync(_machine.Name, token));
    }

    /// <summary>Notes which sources are left out of what is derived from now on, and which no longer.</summary>
    public async Task LeaveOutAsync(IReadOnlyList<SourceGap> gaps, CancellationToken token)
    {
        foreach (var (gap, isOver) in _gaps.Differences(gaps, _horizonUtc))
        {
            await _store.PutGapAsync(_machine.Name, gap, isOver, token);
            _gaps = _gaps.With(gap, isOver);
        }
    }

    /// <summary>
    /// Folds what is new and records what differs, judged as of the horizon (null for the one recorded).
    /// </summary>
    public async Task<IReadOnlyList<DerivedChange>> DeriveAsync(
        DateTimeOffset? horizonUtc, string because, CancellationToken token)
    {
        var dirty = await _store.Reader.DirtyAsync(_machine.Name, token);
        var state = await StartFromAsync(dirty, token);
        if (horizonUtc > _horizonUtc) _horizonUtc = horizonUtc.Value;
        var changes = new List<DerivedChange>();
        await foreach (var sighting in _timeLine.AfterAsync(state.Position, token))
        {
            var next = Fold(state, sighting);
            if (next.OpenedHere && await AtBoundaryAsync(state, changes, because, token) is { } handed)
                next = Fold(handed, sighting);
            _state = state = next;
            if (++_folded % _limits.CheckpointsApart != 0) continue;
            _progress?.Report(new AuditProgress(_machine.Name, "folding", _folded));
            _state = state = await RelievedAsync(state, changes, because, token);
            _checkpoints.Add(state);
        }
        changes.AddRange(await RecordAsync(state, beforeUtc: null, because, token));
        if (dirty?.ByLookUp == true) await RecordProgramsAsync(because, token);
        await EndAsync(state, dirty is not null, token);
        return changes;
    }

    private void Take(MachineState state)
    {
        _fromUtc = FoldScope.Floor(state);
        _state = FoldScope.From(state, _fromUtc);
        _boundary = null;
    }

    private async Task<MachineState> StartFromAsync(DirtyMark? dirty, CancellationToken token)
    {
        if (_state is null) await LoadAsync(token);
        if (dirty is not null && _state is { } folded && PositionOf(dirty.From) <= folded.Position)
        {
            var place = PositionOf(dirty.From);
            _checkpoints.ForgetFrom(place);
            await _kept.ForgetFromAsync(dirty.From, token);
            var near = _checkpoints.Before(place);
            var far = near is null ? await _kept.BeforeAsync(dirty.From, token) : null;
            Take(near ?? far ?? _derivation.Start());
        }
        return _state ?? _derivation.Start();
    }

    // What could not be read makes a finding that belongs to no setup; it is carried in the state like any other.
    private MachineState Fold(MachineState state, Sighting sighting)
    {
        var next = _derivation.Fold(state, sighting);
        if (sighting.Faults.Count == 0 && sighting.TooLate is null) return next;
        var judged = sighting.TooLate is { } reason
            ? RuleBook.JudgeTooLate(_shop, _machine.Name, sighting, reason)
            : RuleBook.JudgeArrival(_shop, _machine.Name, sighting);
        return judged is { } finding
            ? next with { Output = next.Output with { Findings = next.Output.Findings.Add(finding) } }
            : next;
    }

    // The state before a setup opened: the fold can go on from it whatever the setup comes to be. Gives the state with
    // what was recorded taken out of it; null where nothing was.
    private async Task<MachineState?> AtBoundaryAsync(
        MachineState state, List<DerivedChange> changes, string because, CancellationToken token)
    {
        var before = state;
        if (_folded - _foldedAtKept >= _limits.KeptApart)
        {
            state = await RecordedAsync(state, changes, because, token);
            await KeepAsync(state, token);
        }
        _boundary = state;
        _checkpoints.Add(state);
        return ReferenceEquals(state, before) ? null : state;
    }

    private Task<MachineState> RelievedAsync(
        MachineState state, List<DerivedChange> changes, string because, CancellationToken token) =>
        FoldScope.Weight(state) >= _limits.Weight
            ? RecordedAsync(state, changes, because, token)
            : Task.FromResult(state);

    // Records what folding on can no longer change, and lets go of it.
    private async Task<MachineState> RecordedAsync(
        MachineState state, List<DerivedChange> changes, string because, CancellationToken token)
    {
        var floor = FoldScope.Floor(state);
        if (floor <= _fromUtc) return state;
        changes.AddRange(await RecordAsync(state, floor, because, token));
        _fromUtc = floor;
        return FoldScope.From(state, floor);
    }

    private Task<IReadOnlyList<DerivedChange>> RecordAsync(
        MachineState state, DateTimeOffset? beforeUtc, string because, CancellationToken token) =>
        _store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = _machine.Name,
            ScopeFromUtc = _fromUtc,
            ScopeBeforeUtc = beforeUtc,
            Kinds = DerivedRows.FoldKinds,
            Rows = _rows.Of(_derivation.Settle(state, _horizonUtc, _gaps.Unread(_machine)), _fromUtc, beforeUtc),
            WithdrawnBecause = because,
            HorizonUtc = beforeUtc is null && _horizonUtc > DateTimeOffset.MinValue ? _horizonUtc : null,
        }, token);

    /// <summary>Records a row for every version of every program.</summary>
    public Task<IReadOnlyList<DerivedChange>> RecordProgramsAsync(string because, CancellationToken token) =>
        _store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = _machine.Name,
            ScopeFromUtc = DateTimeOffset.MinValue,
            Kinds = new HashSet<DerivedKind> { DerivedKind.Program },
            Rows = _rows.Of(Shelves.Programs),
            WithdrawnBecause = because,
        }, token);

    private async Task EndAsync(MachineState state, bool wasDirty, CancellationToken token)
    {
        if (_boundary is { } boundary)
        {
            await KeepAsync(FoldScope.From(boundary, FoldScope.Floor(boundary)), token);
            _boundary = null;
        }
        // Where no setup opened for long, the next start would otherwise fold all of it again for one more dump.
        if (_folded - _foldedAtKept >= _limits.KeptAtEnd)
            await KeepAsync(FoldScope.From(state, FoldScope.Floor(state)), token);
        Take(state);
        if (_state is { } kept) _checkpoints.Add(kept);
        if (wasDirty) await _store.ClearDirtyAsync(_machine.Name, token);
    }

    private async Task KeepAsync(MachineState state, CancellationToken token)
    {
        await _kept.KeepAsync(state, token);
        _foldedAtKept = _folded;
    }

    private static FoldPosition PositionOf(SightingPosition place) =>
        new(place.AtUtc, place.Source, place.File, place.Sha256, place.Line);
}
