using System.CommandLine;
using System.CommandLine.Parsing;
using System.Data.Common;
using Serilog;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// The whole command line, and the one place where what a command throws becomes a sentence and an exit status.
/// </summary>
public static class CommandLine
{
    public static async Task<int> RunAsync(IReadOnlyList<string> arguments, Terminal terminal, CancellationToken token)
    {
        // An argument that begins with @ is a name like any other, not a file of further arguments.
        var parsed = Root(terminal).Parse(arguments, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Errors.Count > 0) return Refuse(parsed, terminal);
        try
        {
            return await parsed.InvokeAsync(new InvocationConfiguration
            {
                Output = terminal.Out,
                Error = terminal.Errors,
                EnableDefaultExceptionHandler = false,
                ProcessTerminationTimeout = null,
            }, token);
        }
        catch (OperationCanceledException) when (token.IsCancellationRequested)
        {
            await terminal.Errors.WriteLineAsync("Stopped before it was done; nothing is lost, run it again.");
            return ExitCode.SomethingWrong;
        }
        catch (CommandException fault)
        {
            await terminal.Errors.WriteLineAsync(VisibleLines.Of(fault.Message));
            return fault.Status;
        }
        catch (StoreException fault)
        {
            await terminal.Errors.WriteLineAsync(VisibleLines.Of(fault.Message));
            return fault.Kind == StoreFaultKind.Final ? ExitCode.AtFault : ExitCode.SomethingWrong;
        }
        catch (DbException fault)
        {
            Log.Debug(fault, "A command failed on the database");
            await terminal.Errors.WriteLineAsync(VisibleLines.Of($"The record could not be read or written: "
                + $"{fault.Message} What was kept before is kept; run it again once the cause is mended."));
            return ExitCode.SomethingWrong;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            Log.Debug(fault, "A command failed on a file");
            await terminal.Errors.WriteLineAsync(VisibleLines.Of(fault.Message));
            return ExitCode.SomethingWrong;
        }
        catch (Exception fault)
        {
            // The last line of defence: a fault of ours, told with all that helps to mend it.
            Log.Fatal(fault, "The command failed by a fault of the program");
            return ExitCode.SomethingWrong;
        }
        finally
        {
            await terminal.Out.FlushAsync(CancellationToken.None);
        }
    }

    internal static RootCommand Root(Terminal terminal)
    {
        var root = new RootCommand("Keeps the audit trail of CNC setups: what was set, before and after, by what, "
            + "and what stands against it. It replaces no dry run and no rule of your shop.");
        root.Directives.Clear();
        foreach (var command in new[]
        {
            DemoCommand.Make(terminal), CheckCommand.Make(terminal), OnceCommand.Make(terminal),
            RunCommand.Make(terminal), TryCommand.Make(terminal), ListCommand.Make(terminal),
            StateCommand.Make(terminal), ReportCommand.Make(terminal), TraceCommand.Make(terminal),
                ReadyCommand.Make(terminal),
            RebuildCommand.Make(terminal), ExportCommand.Make(terminal), VerifyCommand.Make(terminal),
            AlertsCommand.Make(terminal), ReviewCommand.Make(terminal), PeopleCommand.Make(terminal),
            BackupCommand.Make(terminal), RestoreCommand.Make(terminal), PruneCommand.Make(terminal),
            KeyCommand.Make(terminal), TablesCommand.Make(terminal),
        }) root.Add(command);
        return root;
    }

    private static int Refuse(ParseResult parsed, Terminal terminal)
    {
        // A word that is no command makes two errors, of which only the second says what is wrong.
        var errors = parsed.UnmatchedTokens.Count > 0 && parsed.CommandResult.Command is RootCommand
            ? parsed.UnmatchedTokens.Take(1).Select(word => $"'{word}' is no command.")
            : parsed.Errors.Select(error => error.Message);
        foreach (var error in errors) terminal.Errors.WriteLine(VisibleLines.Of(error));
        terminal.Errors.WriteLine(Allowed(parsed.CommandResult));
        return ExitCode.AtFault;
    }

    private static string Allowed(CommandResult at)
    {
        var command = at.Command;
        var names = command.Subcommands.Select(sub => sub.Name)
            .Concat(command.Arguments.Select(argument => argument.HelpName ?? argument.Name.ToUpperInvariant()))
            .Concat(command.Options
                .Select(option => option.HelpName is null ? option.Name : $"{option.Name} {option.HelpName}"));
        var after = command is RootCommand ? "setupaudit" : $"setupaudit {command.Name}";
        return $"Allowed after '{after}': {string.Join(", ", names)}.";
    }
}
