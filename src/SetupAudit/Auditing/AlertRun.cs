using Serilog;
using SetupAudit.Alerts;
using SetupAudit.Shares;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>Alerts beside the audit: a loop of their own on the same store.</summary>
internal sealed class AlertRun(AuditOptions options, AuditStore store, TimeProvider clock)
{
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(5);

    private volatile AlertDispatcher? _dispatcher;

    /// <summary>How sending stands; null where the configuration names nobody, or it has not begun.</summary>
    public SendStanding? Standing => _dispatcher?.Standing;

    /// <summary>Runs until it is cancelled; only a store that fails ends it before.</summary>
    public async Task RunAsync(CancellationToken token)
    {
        while (true)
        {
            try
            {
                _dispatcher = await OpenAsync(token);
                if (_dispatcher is not null) await _dispatcher.RunAsync(token);
                else await Task.Delay(Timeout.InfiniteTimeSpan, clock, token);
            }
            catch (Exception fault) when (fault is not (OperationCanceledException or StoreException))
            {
                // The last line of defence: what cannot be told now must not stop the audit.
                Log.Error(fault, "Alerts failed; they begin again in {Wait}", Again);
                await Task.Delay(Again, clock, token);
            }
        }
    }

    /// <summary>Sends what is to be sent, each message once.</summary>
    public async Task<SendCount> OnceAsync(CancellationToken token) =>
        await OpenAsync(token) is { } dispatcher ? await dispatcher.OnceAsync(token) : SendCount.None;

    private async Task<AlertDispatcher?> OpenAsync(CancellationToken token) => options.Shop.Alerts is { } alerts
        ? await AlertDispatcher.OpenAsync(
            options.Shop, alerts, options.ConfigurationSha256, store, new ShareNames(options.Shop, MountTable.PointOf),
            options.Channels(alerts, clock), clock, token)
        : null;
}
