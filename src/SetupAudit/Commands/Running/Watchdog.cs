using System.Globalization;
using Microsoft.Extensions.Hosting.Systemd;
using Serilog;
using SetupAudit.Auditing;

namespace SetupAudit.Commands.Running;

/// <summary>
/// Tells systemd that the service lives, for as long as its loop gets on: a ping from a timer alone would keep a hung
/// loop alive for ever (sd_watchdog_enabled(3)).
/// </summary>
internal sealed class Watchdog(ISystemdNotifier? systemd, Pulse pulse, TimeProvider clock) : BackgroundService
{
    private const int PingsPerPeriod = 3;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (systemd is not { IsEnabled: true } || Period() is not { } period) return;
        using var timer = new PeriodicTimer(period / PingsPerPeriod, clock);
        do
        {
            if (pulse.Age <= HealthNow.LoopMost) systemd.Notify(new ServiceState("WATCHDOG=1"));
            else Log.Error("The loop has not got on for {Age}; systemd is no longer told that it lives", pulse.Age);
        }
        while (await NextAsync(timer, stoppingToken));
    }

    private static async Task<bool> NextAsync(PeriodicTimer timer, CancellationToken token)
    {
        try
        {
            return await timer.WaitForNextTickAsync(token);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    // Set for another process where WATCHDOG_PID names it.
    private static TimeSpan? Period()
    {
        var process = Environment.GetEnvironmentVariable("WATCHDOG_PID");
        var own = Environment.ProcessId.ToString(CultureInfo.InvariantCulture);
        if (process is not null && process != own) return null;
        var text = Environment.GetEnvironmentVariable("WATCHDOG_USEC");
        return long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var microseconds)
            && microseconds > 0 ? TimeSpan.FromMicroseconds(microseconds) : null;
    }
}
