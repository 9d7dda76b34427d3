namespace SetupAudit.Shares;

/// <summary>
/// Scans one watched folder. It keeps what it knows of the folder between scans, so one belongs to one source; it is
/// not safe to use from two threads at once.
/// </summary>
public sealed class FolderScan
{
    // A print-out that is printed to all the time is looked at when it has changed for this many times Settle.
    private const int RestlessSettles = 5;
    private const int MuchRoom = 64;
    private static readonly TimeSpan SaveEvery = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan LeastWait = TimeSpan.FromMilliseconds(250);

    private readonly ShareSource _source;
    private readonly TimeProvider _time;
    private readonly ScanLimits _limits;
    private readonly Trials _trials;
    private readonly Documents _documents;
    private readonly PrintOuts _printOuts;
    private readonly FolderSight _sight;
    private readonly ScanOutbox _outbox;
    private readonly HashSet<Candidate> _still = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<string, Waiting> _waiting = new(StringComparer.Ordinal);
    private int _scan;
    private bool _wasListed;

    /// <param name="known">As the store kept them from the batches of earlier scans of this source.</param>
    public FolderScan(
        ShareSource source, IShareFiles files, TimeProvider time, IEnumerable<Position> known,
        ScanLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(files);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentNullException.ThrowIfNull(known);
        _source = source;
        _time = time;
        _limits = limits ?? ScanLimits.Default;
        _trials = new Trials(source, _limits);
        var kept = new KnownFiles(known, source.Watch.Rehash);
        _documents = new Documents(files, _trials);
        _printOuts = new PrintOuts(files, _trials, kept);
        _sight = new FolderSight(source, files, kept);
        _outbox = new ScanOutbox(source, kept, _limits, time, Confirmed);
    }

    private bool IsPrintOut => _source.Watch.Read == Shop.SourceKind.PrintOut;

    /// <summary>
    /// Lists the folder, reads what is new and settled, and hands it over in batches, oldest first. Faults of the share
    /// are in the report; what <paramref name="takeIn"/> throws passes through, and the files of that batch come again.
    /// </summary>
    public ScanReport Run(Action<ScanBatch> takeIn, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(takeIn);
        var startedUtc = _time.GetUtcNow();
        var startedAt = _time.GetTimestamp();
        var fault = _sight.List(++_scan, startedUtc.UtcDateTime, cancel);
        var moment = new ScanMoment(
            _scan, startedUtc.UtcDateTime, startedAt, _time.GetTimestamp(), IsFirst: !_wasListed, _time);
        _outbox.Begin(takeIn);
        _still.Clear();
        _trials.Torn = 0;
        _trials.IsTruthful = _sight.IsTruthful;
        if (fault is { IsShareGone: true }) return Report(startedUtc, moment, fault.Reason);

        if (fault is null) _sight.NoteAbsences(_outbox);
        Observe(moment);
        var gone = TakeDue(moment, cancel);
        if (_outbox.HasBatch || moment.IsFirst || _time.GetElapsedTime(_outbox.SavedAt) >= SaveEvery) _outbox.Flush();
        _wasListed |= fault is null;
        LetGo();
        return Report(startedUtc, moment, gone ?? fault?.Reason);
    }

    // A first scan makes room for every file of the folder, which the scans that follow never need again.
    private void LetGo()
    {
        if (_sight.Candidates.Count > 0 || _waiting.Count > 0 || _waiting.Capacity < MuchRoom) return;
        _waiting.TrimExcess();
        _still.TrimExcess();
        _sight.LetGo();
    }

    private void Observe(ScanMoment moment)
    {
        foreach (var candidate in _sight.Candidates)
        {
            if (candidate.Kind != EntryKind.File) continue;
            _still.Add(candidate);
            if (!_waiting.TryGetValue(candidate.Name, out var waiting))
                _waiting.Add(candidate.Name, waiting = new Waiting(candidate.Listed, moment.ListedAt));
            waiting.Observe(candidate.Listed, moment);
        }

        foreach (var (name, waiting) in _waiting)
        {
            if (waiting.SeenInScan != moment.Number) _waiting.Remove(name);
        }
    }

    private string? TakeDue(ScanMoment moment, CancellationToken cancel)
    {
        var due = _sight.Candidates.Where(one => DueIn(one, moment) <= TimeSpan.Zero)
            .OrderBy(one => one.Listed.ModifiedUtc).ThenBy(one => one.Name, StringComparer.Ordinal).ToList();
        foreach (var taking in Takings(due, moment, cancel))
        {
            cancel.ThrowIfCancellationRequested();
            if (taking.ShareFault is { } gone) return gone;
            _outbox.Add(taking);
        }

        return null;
    }

    private IEnumerable<Taking> Takings(List<Candidate> due, ScanMoment moment, CancellationToken cancel) => IsPrintOut
        ? _printOuts.Take(due, _sight.Candidates, new Turn(moment, one => _waiting[one.Name], cancel))
        : due.Select(one =>
            _trials.NoFile(one, moment) ?? _documents.Take(one, _waiting[one.Name], moment, cancel));

    /// <summary>Zero or less for what is to be read now.</summary>
    private TimeSpan DueIn(Candidate candidate, ScanMoment moment)
    {
        if (candidate.Kind != EntryKind.File || candidate.IsRecheck) return TimeSpan.Zero;
        var waiting = _waiting[candidate.Name];
        var quiet = candidate.Why == CandidateWhy.Tail ? _limits.UnfinishedLine : _source.Watch.Settle;
        if (moment.IsOld(candidate.Listed, quiet)) return TimeSpan.Zero;
        var left = quiet - moment.Since(waiting.Since);
        // Where it must be read twice, the first time is before it has settled, so that it costs no time.
        if (!IsPrintOut && !_trials.IsTruthful && !waiting.IsReadAgain) left -= Trials.AttributesHeld;
        if (candidate.Why == CandidateWhy.Tail) return left;
        var restless = IsPrintOut ? _source.Watch.Settle * RestlessSettles : Trials.Patience;
        var leftRestless = restless - moment.Since(waiting.First);
        return left < leftRestless ? left : leftRestless;
    }

    private void Confirmed(Taking taking)
    {
        if (taking.Next?.Growth is { HasTail: true })
        {
            _waiting[taking.Candidate.Name].WatchTail();
            return;
        }

        _waiting.Remove(taking.Candidate.Name);
        _still.Remove(taking.Candidate);
    }

    private ScanReport Report(DateTimeOffset startedUtc, ScanMoment moment, string? fault)
    {
        var horizon = startedUtc.UtcDateTime;
        TimeSpan? readyIn = null;
        foreach (var candidate in _still)
        {
            // Of a print-out, anything after the last look may be missing; of a document, the version it shows now.
            var stamp = IsPrintOut ? candidate.Known?.Taken ?? candidate.Listed : candidate.Listed;
            var from = stamp.ModifiedUtc;
            if (from < horizon) horizon = from;
            var left = WaitFor(candidate, moment);
            if (readyIn is null || left < readyIn) readyIn = left;
        }

        return new ScanReport
        {
            Source = _source,
            StartedUtc = startedUtc,
            Clean = fault is null,
            HorizonUtc = fault is null ? new DateTimeOffset(horizon, TimeSpan.Zero) : null,
            Fault = fault,
            Files = _sight.Files,
            Taken = _outbox.Taken,
            Waiting = _still.Count,
            Torn = _trials.Torn,
            ReadyIn = readyIn,
        };
    }

    // What was due and was tried in vain is due again after Settle.
    private TimeSpan WaitFor(Candidate candidate, ScanMoment moment)
    {
        if (!_waiting.TryGetValue(candidate.Name, out var waiting)) return LeastWait;
        var left = waiting.IsTail
            ? _limits.UnfinishedLine - moment.Since(waiting.Since)
            : DueIn(candidate, moment);
        if (left <= TimeSpan.Zero) left = _source.Watch.Settle;
        return left > LeastWait ? left : LeastWait;
    }
}
