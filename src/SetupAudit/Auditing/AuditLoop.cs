using Serilog;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>The audit as a part of a host: stops with it, and stops it where the store cannot be used.</summary>
public sealed class AuditLoop(Auditor auditor, IHostApplicationLifetime host) : BackgroundService
{
    /// <summary>Why the audit ended by itself; null where it was asked to.</summary>
    public StoreException? Fault { get; private set; }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await auditor.RunAsync(stoppingToken);
        }
        catch (StoreException fault)
        {
            // The command tells it as a sentence when the host has stopped.
            Log.Debug(fault, "The audit cannot go on");
            Fault = fault;
            host.StopApplication();
        }
    }
}
