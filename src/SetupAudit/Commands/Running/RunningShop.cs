using Microsoft.Extensions.Hosting.Systemd;
using Serilog;
using SetupAudit.Auditing;
using SetupAudit.Metering;
using SetupAudit.Shares;
using SetupAudit.Web;

namespace SetupAudit.Commands.Running;

/// <summary>The service put together: the loop, what looks after it, and the door it answers at.</summary>
internal static class RunningShop
{
    /// <summary>Runs until cancelled; throws where the store cannot be used.</summary>
    public static async Task ServeAsync(string path, AuditOptions options, TimeProvider time, CancellationToken token)
    {
        var startedUtc = time.GetUtcNow();
        // Before anything counts, so that nothing is missed.
        using var page = new MetricsPage();
        using var uptime = Meters.Show(MetricBook.Uptime,
            () => [new Figure((time.GetUtcNow() - startedUtc).TotalSeconds, ProgramVersion.Text)]);
        using var push = options.Shop.OtlpUrl is { } url ? OtlpPush.To(url, ProgramVersion.Text) : null;
        var auditor = new Auditor(options, new LocalFiles(), time);
        using var standing = new StandingLog(auditor, time);
        using var configuration = new ConfigurationWatch(path, auditor, time);
        var health = new HealthNow(auditor, standing, configuration);
        Health Now() => health.Of(startedUtc);
        using var pages = new ShopPages(() => auditor.Options.Shop, Now, time);

        var builder = WebDoor.At(options.Shop.WebUrl, Now, options.Shop.Alerts?.ReportUrl);
        builder.Services.AddSerilog();
        // The package's own test asks for the parent's name; sd_notify(3) asks for the socket alone.
        if (Environment.GetEnvironmentVariable("NOTIFY_SOCKET") is { Length: > 0 })
        {
            builder.Services.AddSingleton<ISystemdNotifier, SystemdNotifier>();
            builder.Services.AddSingleton<IHostLifetime, SystemdLifetime>();
        }
        // Does something only where Windows started the process as a service.
        builder.Services.AddWindowsService(service => service.ServiceName = "SetupAudit");
        builder.Services.AddSingleton(host =>
            new AuditLoop(auditor, host.GetRequiredService<IHostApplicationLifetime>()));
        builder.Services.AddHostedService(host => host.GetRequiredService<AuditLoop>());
        builder.Services.AddHostedService(_ => standing);
        builder.Services.AddHostedService(_ => configuration);
        builder.Services.AddHostedService(host =>
            new Watchdog(host.GetService<ISystemdNotifier>(), auditor.Pulse, time));
        await using var web = builder.Build().Answering(Now, page, pages.Source);
        var loop = web.Services.GetRequiredService<AuditLoop>();
        web.Lifetime.ApplicationStarted.Register(() => Log.Information("Listening on {Urls}", web.Urls));
        await web.StartListeningAsync(options.Shop.WebUrl, token);
        await web.WaitForShutdownAsync(token);
        if (loop.Fault is { } fault) throw fault;
        // A part that failed has stopped the host without a word; awaited, it says why.
        foreach (var part in (BackgroundService[])[loop, standing, configuration])
            if (part.ExecuteTask is { IsFaulted: true } ended) await ended;
    }
}
