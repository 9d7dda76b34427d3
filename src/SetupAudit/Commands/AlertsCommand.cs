using System.CommandLine;

namespace SetupAudit.Commands;

/// <summary><c>alerts</c>: what a person does about the sending of alerts.</summary>
internal static class AlertsCommand
{
    public static Command Make(Terminal terminal) =>
        new("alerts", "Tries the ways on which alerts go out, sends again, or asks for quiet.")
        {
            AlertsTestCommand.Make(terminal), AlertsResendCommand.Make(terminal), AlertsQuietCommand.Make(terminal),
        };
}
