using Serilog;
using SetupAudit.Metering;

namespace SetupAudit.Shares;

/// <summary>Watches one source: scans it, hands over what was found, and says when to look again.</summary>
internal sealed class ShareWorker : IDisposable
{
    /// <summary>A call on a share that takes longer than this is told as a fault.</summary>
    public static readonly TimeSpan Unanswered = TimeSpan.FromSeconds(10);

    private static readonly TimeSpan LongestBackOff = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan LeastGap = TimeSpan.FromMilliseconds(250);

    private const int QuietTimes = 10;

    private readonly ShareSource _source;
    private readonly TimedFiles _files;
    private readonly TimeProvider _time;
    private readonly IIntake _intake;
    private readonly ShareLog _log;
    private readonly Alarm _alarm;
    private readonly bool _takesHints;
    private readonly ScanLimits? _limits;
    private FolderScan? _scan;
    private ChangeHint? _hint;
    private int _faults;
    private volatile ShareStatus _status;

    public ShareWorker(
        ShareSource source, IShareFiles files, TimeProvider time, IIntake intake, ScanLimits? limits = null)
    {
        _limits = limits;
        _source = source;
        _files = new TimedFiles(ShareDoor.Of(source, files), time);
        _time = time;
        _intake = intake;
        _log = new ShareLog(source, time);
        _alarm = new Alarm(time);
        _takesHints = files is LocalFiles && source.Watch.Sftp is null;
        _status = new ShareStatus(source, null, null);
    }

    public ShareStatus Status => _status with
    {
        Fault = Silence() ?? _status.Fault,
        Blocked = _files.Silence,
    };

    /// <summary>Called on this worker's thread after a scan that took something in.</summary>
    public Action? OnTaken { get; set; }

    /// <summary>Until cancelled. Waits between scans; a poke cuts the wait short.</summary>
    public void Run(CancellationToken cancel)
    {
        try
        {
            while (true)
            {
                var began = _time.GetTimestamp();
                var delay = Step(cancel);
                Pause(delay, _time.GetElapsedTime(began), cancel);
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            Log.Debug("Stopped watching {Source}", _source);
        }
        finally
        {
            _files.Close();
            _hint?.Dispose();
        }
    }

    /// <summary>One scan; gives how long to wait for the next.</summary>
    public TimeSpan Step(CancellationToken cancel)
    {
        try
        {
            _scan ??= new FolderScan(_source, _files, _time, _intake.Positions(_source), _limits);
            var report = _scan.Run(batch => _intake.TakeIn(batch, cancel), cancel);
            _intake.Ended(report);
            Count(report);
            if (report.Taken > 0) OnTaken?.Invoke();
            return Note(report);
        }
        catch (NotTakenInException fault)
        {
            // Told in full, and mended, behind the intake; the files are still on the share and come again.
            Log.Debug(fault, "Could not take in from {Source}", _source);
            return BackOff(fault.Message);
        }
        catch (Exception fault) when (fault is not OperationCanceledException || !cancel.IsCancellationRequested)
        {
            // The last line of defence of this thread: the files are still on the share and come again.
            Log.Error(fault, "Could not take in from {Source}", _source);
            return BackOff($"what was found could not be taken in: {fault.Message}");
        }
    }

    /// <summary>Called from any thread: the next poll comes at once.</summary>
    public void Poke() => _alarm.Poke();

    /// <summary>Called from another thread: tells of a share that does not answer.</summary>
    public void TellSilence()
    {
        if (Silence() is { } silence) _log.Fault(silence);
    }

    public void Dispose()
    {
        _hint?.Dispose();
        _alarm.Dispose();
    }

    /// <summary>
    /// Until the next poll is due; when poked, only until a scan costs no more than a tenth of the time.
    /// </summary>
    private void Pause(TimeSpan delay, TimeSpan scanTook, CancellationToken cancel)
    {
        var ended = _time.GetTimestamp();
        if (_alarm.Wait(delay, cancel)) return;
        var gap = scanTook * QuietTimes > LeastGap ? scanTook * QuietTimes : LeastGap;
        if (gap > delay) gap = delay;
        while (gap - _time.GetElapsedTime(ended) is var left && left > TimeSpan.Zero) _alarm.Wait(left, cancel);
    }

    private TimeSpan Note(ScanReport report)
    {
        if (report.Fault is { } fault)
        {
            _log.Fault(fault);
            return BackOff(fault);
        }

        _log.Fine();
        _faults = 0;
        _status = _status with { LastCleanUtc = report.StartedUtc, Fault = null };
        if (report.Taken > 0)
        {
            Log.Debug("Scanned {Source}: {Files} files, {Taken} taken in, {Waiting} waiting",
                _source, report.Files, report.Taken, report.Waiting);
        }

        TakeHint();
        return report.ReadyIn is { } ready && ready < _source.Watch.Poll ? ready : _source.Watch.Poll;
    }

    private void Count(ScanReport report)
    {
        Meters.Count(MetricBook.TornReads, report.Torn, _source.Machine, _source.Name);
        _status = _status with
        {
            Files = report.Clean ? report.Files : _status.Files,
            Pending = report.Waiting,
            TornReads = _status.TornReads + report.Torn,
        };
    }

    private TimeSpan BackOff(string fault)
    {
        Meters.Count(MetricBook.ShareFaults, 1, _source.Machine, _source.Name);
        _status = _status with { Fault = fault };
        _faults = Math.Min(_faults + 1, 16);
        var delay = _source.Watch.Poll * Math.Pow(2, _faults - 1);
        return (delay < LongestBackOff ? delay : LongestBackOff) * Jitter();
    }

    // A quarter less at most, and never the same twice: the folders of one server that came back must not all ask it
    // at once. By name and number, so that it needs no dice.
    private double Jitter() => 1 - (0.25 * KnownFiles.Spread($"{_source}/{_faults}"));

    private string? Silence() => _files.Silence is var silence && silence >= Unanswered
        ? string.Create(System.Globalization.CultureInfo.InvariantCulture,
            $"the share has not answered for {silence.TotalSeconds:0} s")
        : null;

    private void TakeHint()
    {
        if (!_takesHints || _hint is { IsDeaf: false }) return;
        _hint?.Dispose();
        _hint = ChangeHint.Try(_source, _alarm.Poke);
    }
}
