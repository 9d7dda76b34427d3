using System.CommandLine;
using SetupAudit.Alerts;

namespace SetupAudit.Commands;

/// <summary><c>alerts resend</c>: has messages that ended their way sent again, under their own ids.</summary>
internal static class AlertsResendCommand
{
    public static Command Make(Terminal terminal)
    {
        var id = new Argument<string?>("id")
        {
            HelpName = "ID",
            Description = "A message, or a finding that it tells, by any beginning of its id.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var dead = new Option<bool>("--dead") { Description = "All that did not arrive and is not tried any more." };
        var config = CommonOptions.Config();
        var command = new Command("resend", "Has messages sent again, under their own ids.") { id, dead, config };
        command.Validators.Add(parsed =>
        {
            if (parsed.GetValue(id) is null != parsed.GetValue(dead))
                parsed.AddError("Give an ID or --dead, one of the two.");
        });
        command.SetAction(async (parsed, token) =>
        {
            var loaded = ShopFile.LoadToRun(parsed.GetRequiredValue(config));
            var ask = new AlertAsk { Id = AskBox.NewId(terminal.Time.GetUtcNow()), Resend = parsed.GetValue(id) };
            var answer = await AlertsAsking.DoAsync(loaded, ask, terminal, token);
            await (answer.Done ? terminal.Out : terminal.Errors).WriteLineAsync(VisibleLines.Of(answer.Says));
            return answer.Done ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }
}
