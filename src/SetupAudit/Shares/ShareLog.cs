using Serilog;

namespace SetupAudit.Shares;

/// <summary>
/// Tells of a share's faults at once, then once a minute while they last, and when they are over. However often a share
/// comes and goes, it is one line a minute.
/// </summary>
internal sealed class ShareLog(ShareSource source, TimeProvider time, Serilog.ILogger? logger = null)
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);
    private readonly Lock _lock = new();
    private long _toldAt;
    private bool _hasTold;
    private bool _isFaultTold;
    private int _untold;

    public void Fault(string reason)
    {
        int untold;
        lock (_lock)
        {
            if (!MayTell())
            {
                _untold++;
                return;
            }

            _isFaultTold = true;
            (untold, _untold) = (_untold, 0);
        }

        if (untold == 0)
            To.Warning("Cannot read {Source}: {Reason}", source, reason);
        else
            To.Warning(
                "Cannot read {Source}: {Reason} ({Tries} tries failed since the last line)", source, reason, untold);
    }

    public void Fine()
    {
        lock (_lock)
        {
            if (!_isFaultTold || !MayTell()) return;
            _isFaultTold = false;
            _untold = 0;
        }

        To.Information("Reading {Source} again", source);
    }

    private Serilog.ILogger To => logger ?? Log.Logger;

    private bool MayTell()
    {
        if (_hasTold && time.GetElapsedTime(_toldAt) < Every) return false;
        _toldAt = time.GetTimestamp();
        _hasTold = true;
        return true;
    }
}
