using System.CommandLine;
using Serilog.Events;
using SetupAudit.Commands.Running;

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
            var path = parsed.GetRequiredValue(config);
            var options = AuditStart.Options(path, "run", terminal, progress: null);
            await RunningShop.ServeAsync(path, options, terminal.Time, token);
            return ExitCode.Done;
        });
        return command;
    }
}
