using SetupAudit.Metering;
using SetupAudit.Shop;
using SetupAudit.Store.Stamps;

namespace SetupAudit.Auditing;

/// <summary>Time stamps beside the audit, where the configuration names an authority.</summary>
internal sealed class StampRun(StoreConfig config, TimeProvider clock)
{
    // A call on a dead mount cannot be broken off; the authority itself has its own, shorter limit.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(20);

    private readonly TimeStamping? _stamping = config.TimeStamps is { } stamps
        ? new TimeStamping(config.Folder, config.Checkpoints, stamps, clock, config.Postgres)
        {
            OnAsked = Count,
        }
        : null;

    /// <summary>How it stands; null where nobody is asked.</summary>
    public StampStanding? Standing => _stamping?.Standing;

    /// <summary>Runs until it is cancelled, and then a little longer at most.</summary>
    public async Task RunAsync(CancellationToken token)
    {
        if (_stamping is null) return;
        var running = _stamping.RunAsync(token);
        var stopped = Task.Delay(Timeout.InfiniteTimeSpan, clock, token);
        await Task.WhenAny(running, stopped);
        await Task.WhenAny(running, Task.Delay(LongestWait, clock, CancellationToken.None));
    }

    /// <summary>Asks once where a stamp is due; returns why there is none, in words.</summary>
    public async Task<string?> OnceAsync(CancellationToken token)
    {
        if (_stamping is null) return null;
        try
        {
            return await _stamping.StampAsync(token).WaitAsync(LongestWait, clock, token);
        }
        catch (TimeoutException)
        {
            return "the folder off this computer does not answer";
        }
    }

    private static void Count(bool isKept) => Meters.Count(MetricBook.Stamps, 1, isKept ? "kept" : "failed");
}
