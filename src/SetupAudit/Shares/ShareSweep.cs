using System.Runtime.ExceptionServices;
using Serilog;

namespace SetupAudit.Shares;

/// <summary>Takes in all that lies on the shares now: what is settled at once, the rest when it has settled.</summary>
public sealed class ShareSweep(IShareFiles files, TimeProvider time, IIntake intake, ScanLimits? limits = null)
{
    /// <summary>What does not hold still for this long is left for the next sweep, and the report says so.</summary>
    public static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(2);

    /// <summary>A share whose call does not come back for this long is given up.</summary>
    public static readonly TimeSpan LongestSilence = TimeSpan.FromSeconds(60);

    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    /// <summary>
    /// The last report of each source, in the order given. A source in fault is reported, not waited for. What the
    /// intake throws is thrown here when every source has ended.
    /// </summary>
    public IReadOnlyList<ScanReport> Run(IReadOnlyList<ShareSource> sources, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(sources);
        var sweeps = sources.Select(source => new Sweep(source, files, time, intake, limits)).ToList();
        sweeps.ForEach(sweep => sweep.Start(cancel));
        var reports = sweeps.Select(sweep => sweep.End()).ToList();
        cancel.ThrowIfCancellationRequested();
        sweeps.ForEach(sweep => sweep.ThrowIfFailed());
        return reports;
    }

    /// <summary>One source, on a thread of its own: on a dead mount it hangs, and nobody waits for ever.</summary>
    private sealed class Sweep(
        ShareSource source, IShareFiles files, TimeProvider time, IIntake intake, ScanLimits? limits)
    {
        private readonly TimedFiles _files = new(ShareDoor.Of(source, files), time);
        private volatile ScanReport? _report;
        private volatile Exception? _failure;
        private Thread? _thread;

        public void Start(CancellationToken cancel)
        {
            _thread = new Thread(() => Run(cancel)) { IsBackground = true, Name = $"share {source}" };
            _thread.Start();
        }

        public ScanReport End()
        {
            while (_thread?.Join(LookEvery) == false)
            {
                if (_files.Silence >= LongestSilence) return Unfinished("the share does not answer");
            }

            return _report ?? Unfinished(_failure?.Message ?? "the sweep was ended");
        }

        public void ThrowIfFailed()
        {
            if (_failure is { } failure) ExceptionDispatchInfo.Throw(failure);
        }

        private void Run(CancellationToken cancel)
        {
            try
            {
                _report = Repeat(cancel);
            }
            catch (Exception failure)
            {
                // An exception that leaves a thread ends the program; it is thrown where the sweep was asked for.
                Log.Debug(failure, "Sweep of {Source} ended", source);
                _failure = failure;
            }
            finally
            {
                _files.Close();
            }
        }

        private ScanReport Repeat(CancellationToken cancel)
        {
            var scan = new FolderScan(source, _files, time, intake.Positions(source), limits);
            using var alarm = new Alarm(time);
            var began = time.GetTimestamp();
            while (true)
            {
                var report = scan.Run(batch => intake.TakeIn(batch, cancel), cancel);
                intake.Ended(report);
                if (report.Fault is not null || report.ReadyIn is not { } ready) return report;
                if (time.GetElapsedTime(began) + ready > LongestWait) return report;
                alarm.Wait(ready, cancel);
            }
        }

        private ScanReport Unfinished(string fault) => new()
        {
            Source = source,
            StartedUtc = time.GetUtcNow(),
            Clean = false,
            Fault = fault,
        };
    }
}
