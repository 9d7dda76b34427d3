using Serilog;

namespace SetupAudit.Shares;

/// <summary>
/// Watches every source until stopped. Each has a thread of its own, so that a dead mount blocks nobody else; polling
/// is the truth, change notification only makes the next poll come earlier.
/// </summary>
public sealed class ShareWatcher : IDisposable
{
    private const int StackBytes = 256 * 1024;
    private static readonly TimeSpan LookAfter = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan StopWithin = TimeSpan.FromSeconds(5);

    private readonly List<ShareWorker> _workers;
    private readonly List<Thread> _threads = [];
    private readonly TimeProvider _time;
    private readonly CancellationTokenSource _stop = new();
    private ITimer? _lookAfter;
    private bool _isStopped;

    public ShareWatcher(
        IReadOnlyList<ShareSource> sources, IShareFiles files, TimeProvider time, IIntake intake,
        ScanLimits? limits = null)
    {
        ArgumentNullException.ThrowIfNull(time);
        _time = time;
        _workers = [.. sources.Select(source => new ShareWorker(source, files, time, intake, limits))];
        foreach (var worker in _workers) worker.OnTaken = () => PokeWith(worker.Status.Source.Machine);
    }

    /// <summary>Where each source stands now; also tells of a worker that its share does not answer.</summary>
    public IReadOnlyList<ShareStatus> Statuses => [.. _workers.Select(worker => worker.Status)];

    /// <summary>Starts the workers and returns.</summary>
    public void Start()
    {
        foreach (var worker in _workers)
        {
            // Not of the pool, and in the background: a call on a dead mount never comes back and cannot be cancelled.
            var thread = new Thread(() => worker.Run(_stop.Token), StackBytes)
            {
                IsBackground = true,
                Name = $"share {worker.Status.Source}",
            };
            _threads.Add(thread);
            thread.Start();
        }

        _lookAfter = _time.CreateTimer(
            _ => _workers.ForEach(worker => worker.TellSilence()), null, LookAfter, LookAfter);
    }

    // What was taken in is derived when all sources of the machine, and the sheets, were scanned since: so now.
    private void PokeWith(string machine)
    {
        foreach (var worker in _workers)
            if (worker.Status.Source.Machine == machine || worker.Status.Source.Machine.Length == 0) worker.Poke();
    }

    /// <summary>
    /// Asks the workers to end, waits a short while for them, and leaves behind what hangs in a dead mount.
    /// </summary>
    public void Dispose()
    {
        if (_isStopped) return;
        _isStopped = true;
        _lookAfter?.Dispose();
        _stop.Cancel();
        var until = Environment.TickCount64 + (long)StopWithin.TotalMilliseconds;
        var left = _threads.Count(thread => !thread.Join((int)Math.Max(0, until - Environment.TickCount64)));
        if (left > 0)
        {
            Log.Warning("Stopped without {Workers} workers whose shares do not answer", left);
            return;
        }

        _workers.ForEach(worker => worker.Dispose());
        _stop.Dispose();
    }
}
