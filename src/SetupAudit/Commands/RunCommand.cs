using System.CommandLine;
using Serilog;
using Serilog.Events;
using SetupAudit.Auditing;
using SetupAudit.Shares;
using SetupAudit.Web;

namespace SetupAudit.Commands;

/// <summary><c>run</c>: the service. It watches, audits and answers <c>/health</c> until it is asked to stop.</summary>
internal static class RunCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("run", "The service: watches the shares and audits until it is stopped.") { config };
        command.SetAction(async (parsed, token) =>
        {
            ProgramHost.LogLevel.MinimumLevel = LogEventLevel.Information;
            var options = AuditStart.Options(parsed.GetRequiredValue(config), "run", terminal, progress: null);
            await ServeAsync(options, terminal.Time, token);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task ServeAsync(AuditOptions options, TimeProvider time, CancellationToken token)
    {
        var started = time.GetUtcNow();
        var auditor = new Auditor(options, new LocalFiles(), time);
        var builder = WebDoor.At(options.Shop.WebUrl);
        builder.Services.AddSerilog();
        builder.Services.AddSingleton(host =>
            new AuditLoop(auditor, host.GetRequiredService<IHostApplicationLifetime>()));
        builder.Services.AddHostedService(host => host.GetRequiredService<AuditLoop>());
        await using var web = builder.Build().Answering(() => HealthNow.Of(options.Shop, auditor.Sources, started));
        // The host is gone when it has run.
        var loop = web.Services.GetRequiredService<AuditLoop>();
        Log.Information("Listening on {Url}", options.Shop.WebUrl);
        await web.RunAsync(token);
        if (loop.Fault is { } fault) throw fault;
    }
}
