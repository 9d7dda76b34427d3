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
        var auditor = new Auditor(options, new LocalFiles(), time);
        using var standing = new StandingLog(auditor, time);
        using var configuration = new ConfigurationWatch(path, auditor, time);
        var health = new HealthNow(auditor, standing, configuration);
        using var pages = new ShopPages(() => auditor.Options.Shop, time);
        Health Now() => health.Of(startedUtc);

        var builder = WebDoor.At(options.Shop.WebUrl, Now, options.Shop.Alerts?.ReportUrl);
        builder.Services.AddSerilog();
        builder.Services.AddSingleton(host =>
            new AuditLoop(auditor, host.GetRequiredService<IHostApplicationLifetime>()));
        builder.Services.AddHostedService(host => host.GetRequiredService<AuditLoop>());
        builder.Services.AddHostedService(_ => standing);
        builder.Services.AddHostedService(_ => configuration);
        await using var web = builder.Build().Answering(Now, page, pages.Source);
        // The host is gone when it has run.
        var loop = web.Services.GetRequiredService<AuditLoop>();
        web.Lifetime.ApplicationStarted.Register(() => Log.Information("Listening on {Urls}", web.Urls));
        await web.RunAsync(token);
        if (loop.Fault is { } fault) throw fault;
    }
}
