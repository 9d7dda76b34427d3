using System.CommandLine;

namespace SetupAudit.Commands;

/// <summary>Commands that the program will have: named in the help, and saying that they are not there yet.</summary>
internal static class LaterCommands
{
    private static readonly (string Name, string About)[] All =
    [
        ("export", "A bundle of evidence that can be checked without this program."),
    ];

    public static IEnumerable<Command> Make(Terminal terminal) => All.Select(later =>
    {
        // What comes after it cannot be judged yet, so none of it is refused for another reason than the true one.
        var command = new Command(later.Name, $"{later.About} Not available yet.")
        {
            TreatUnmatchedTokensAsErrors = false,
        };
        command.SetAction(_ =>
        {
            terminal.Errors.WriteLine($"The command '{later.Name}' is not available yet.");
            return ExitCode.AtFault;
        });
        return command;
    });
}
