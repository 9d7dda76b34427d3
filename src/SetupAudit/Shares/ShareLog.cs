using Serilog;

namespace SetupAudit.Shares;

/// <summary>Tells of a share's faults: at once, then once a minute while they last, and when they are over.</summary>
internal sealed class ShareLog(ShareSource source, TimeProvider time)
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);
    private readonly Lock _lock = new();
    private long _toldAt;
    private string? _fault;

    public void Fault(string reason)
    {
        lock (_lock)
        {
            if (_fault is not null && time.GetElapsedTime(_toldAt) < Every) return;
            _toldAt = time.GetTimestamp();
            _fault = reason;
        }

        Log.Warning("Cannot read {Source}: {Reason}", source, reason);
    }

    public void Fine()
    {
        lock (_lock)
        {
            if (_fault is null) return;
            _fault = null;
        }

        Log.Information("Reading {Source} again", source);
    }
}
