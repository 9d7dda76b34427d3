using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.Shares;

namespace SetupAudit.Commands;

/// <summary><c>once</c>: takes in all that lies on the shares now, derives, and ends.</summary>
internal static class OnceCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("once", "Takes in all that lies on the shares now, derives, and ends.") { config };
        command.SetAction(async (parsed, token) =>
        {
            var summary = await RunAsync(parsed.GetRequiredValue(config), terminal, token);
            AuditLines.Show(summary, terminal);
            return summary.SomethingIsWrong ? ExitCode.SomethingWrong : ExitCode.Done;
        });
        return command;
    }

    /// <summary>Audits the shop of a configuration once.</summary>
    public static async Task<AuditSummary> RunAsync(string config, Terminal terminal, CancellationToken token)
    {
        using var progress = new ProgressLine(terminal);
        var options = AuditStart.Options(config, "once", terminal, progress);
        return await new Auditor(options, new LocalFiles(), terminal.Time).OnceAsync(token);
    }
}
