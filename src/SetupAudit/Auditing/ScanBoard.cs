using SetupAudit.Alerts;
using SetupAudit.Shares;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Where the scans of every source stand: says when a machine may be derived (all its sources were scanned since
/// anything of it was taken in) and up to when it is known. A source that is silent for long holds nobody back.
/// </summary>
internal sealed class ScanBoard
{
    // Contract promise 2: a source without a clean scan for 10 s no longer holds the others back.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private readonly Lock _lock = new();
    private readonly TimeProvider _time;
    private readonly Bell _bell = new();
    private readonly Dictionary<ShareSource, Standing> _sources;
    private readonly Dictionary<string, Taken> _taken = new(StringComparer.Ordinal);

    public ScanBoard(IReadOnlyList<ShareSource> sources, TimeProvider time)
    {
        _time = time;
        _sources = sources.ToDictionary(source => source, _ => new Standing { AliveUtc = time.GetUtcNow() });
    }

    /// <summary>Whether nothing waits to be derived.</summary>
    public bool IsQuiet
    {
        get
        {
            lock (_lock) return _taken.Count == 0;
        }
    }

    /// <summary>Something was taken in from a source, whose scan goes on.</summary>
    public void TookIn(ShareSource source)
    {
        lock (_lock)
        {
            var nowUtc = _time.GetUtcNow();
            _sources[source].AliveUtc = nowUtc;
            _sources[source].InScan = true;
            var first = _taken.TryGetValue(source.Machine, out var taken) ? taken.FirstUtc : nowUtc;
            _taken[source.Machine] = new Taken(first, nowUtc);
        }
        _bell.Ring();
    }

    public void Ended(ScanReport report)
    {
        lock (_lock)
        {
            var standing = _sources[report.Source];
            standing.InScan = false;
            if (!report.Clean) return;
            standing.AliveUtc = _time.GetUtcNow();
            standing.Clean = report;
            if (_taken.Count > 0) _bell.Ring();
        }
    }

    /// <summary>
    /// Waits until a machine may have come to be due: soon where something was taken in, else until something is, but
    /// never longer than given.
    /// </summary>
    public Task WaitAsync(TimeSpan soon, TimeSpan most, CancellationToken token)
    {
        lock (_lock) return _bell.WaitAsync(_taken.Count > 0 ? soon : most, _time, token);
    }

    /// <summary>Whether something of a machine waits to be derived, and nothing it should wait for itself.</summary>
    public bool IsDue(string machine)
    {
        lock (_lock)
        {
            if (!_taken.TryGetValue(machine, out var taken)) return false;
            var sources = _sources.Where(pair => pair.Key.Machine == machine || pair.Key.Machine.Length == 0).ToList();
            if (sources.All(pair => !HoldsBack(pair.Key, pair.Value, taken))) return true;
            // A source that always has something new must not keep the others waiting for ever; but while a first scan
            // takes in years of files, deriving the half of them would be in vain.
            return _time.GetUtcNow() - taken.FirstUtc >= Patience
                && sources.All(pair => !pair.Value.InScan || IsSilent(pair.Key, pair.Value));
        }
    }

    /// <summary>What was taken in of a machine until now is about to be derived.</summary>
    public void Begin(string machine)
    {
        lock (_lock) _taken.Remove(machine);
    }

    /// <summary>It could not be derived, and waits again.</summary>
    public void PutBack(string machine)
    {
        lock (_lock) _taken.TryAdd(machine, new Taken(_time.GetUtcNow(), _time.GetUtcNow()));
    }

    /// <summary>Up to when all sources of a machine that answer are known to be read; null where none is.</summary>
    public DateTimeOffset? Horizon(string machine)
    {
        lock (_lock)
            return _sources.Where(pair => pair.Key.Machine == machine && !IsSilent(pair.Key, pair.Value))
                .Select(pair => pair.Value.Clean?.HorizonUtc).Where(horizon => horizon is not null).Min();
    }

    /// <summary>The sources of a machine that are silent, and up to when they were read since the start.</summary>
    public IReadOnlyList<SourceGap> Gaps(string machine)
    {
        lock (_lock)
            return [.. _sources.Where(pair => pair.Key.Machine == machine && IsSilent(pair.Key, pair.Value))
                .OrderBy(pair => pair.Key.Watch.Index).Select(pair => new SourceGap(
                    pair.Key.Watch.Index, pair.Value.Clean?.HorizonUtc ?? DateTimeOffset.MinValue))];
    }

    private bool HoldsBack(ShareSource source, Standing standing, Taken taken)
    {
        if (IsSilent(source, standing)) return false;
        if (standing.InScan || standing.Clean is not { } clean || clean.StartedUtc < taken.LastUtc) return true;
        return clean.Waiting > 0 && _time.GetUtcNow() - taken.LastUtc < Patience;
    }

    private bool IsSilent(ShareSource source, Standing standing)
    {
        var usual = source.Watch.Poll * 2;
        return _time.GetUtcNow() - standing.AliveUtc >= (usual > Patience ? usual : Patience);
    }

    private sealed class Standing
    {
        /// <summary>The last clean scan's end, or the last time something was taken in.</summary>
        public required DateTimeOffset AliveUtc { get; set; }

        /// <summary>Something was taken in by a scan that has not ended.</summary>
        public bool InScan { get; set; }

        public ScanReport? Clean { get; set; }
    }

    private readonly record struct Taken(DateTimeOffset FirstUtc, DateTimeOffset LastUtc);
}
