using System.CommandLine;
using SetupAudit.Reports;
using SetupAudit.Store;
using SetupAudit.Store.Keeping;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary><c>restore</c>: puts a copy of the store back, and goes on with its record or begins a new one.</summary>
internal static class RestoreCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var from = new Option<string>("--from")
        {
            HelpName = "DIR",
            Description = "The folder that 'backup' wrote.",
            Required = true,
        };
        var anew = new Option<bool>("--new-record")
        {
            Description = "Set the copy's record aside and begin a new one: where checkpoints kept elsewhere know of "
                + "more than the copy holds.",
        };
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "Who decides it; with --new-record." };
        var reason = new Option<string>("--reason") { HelpName = "TEXT", Description = "Why; with --new-record." };
        var command = new Command("restore", "Puts a copy of the record back where none is.")
        {
            config, from, anew, by, reason,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            BackupCommand.RequireSqlite(shop);
            var copy = Path.GetFullPath(parsed.GetRequiredValue(from));
            var (name, why) = (parsed.GetValue(by)?.Trim() ?? "", parsed.GetValue(reason)?.Trim() ?? "");
            var isAnew = parsed.GetValue(anew);
            if (isAnew && (name.Length == 0 || why.Length == 0))
                throw new CommandException(
                    "--new-record: say who decides it with --by NAME and why with --reason TEXT.");
            if (!isAnew && (name.Length > 0 || why.Length > 0))
                throw new CommandException("--by and --reason belong to --new-record.");
            if (!Directory.Exists(copy)) throw new CommandException($"--from: there is no folder {copy}.");
            if (!StoreCopy.IsIn(copy))
                throw new CommandException($"--from: {copy} holds no copy of a record; name the folder that 'backup' "
                    + "wrote.");
            var check = await StoreVerifier.RunAsync(new VerifyOptions
            {
                Folder = copy,
                AuthorityFile = shop.Store.TimeStamps?.CertificateFile,
            }, token);
            if (!check.Holds)
            {
                VerifyLines.Write(check, terminal);
                throw new CommandException(
                    $"--from: the copy in {copy} does not verify; it is not put back.", ExitCode.SomethingWrong);
            }
            var options = RecordOptions.Of(shop);
            var folder = shop.Store.Folder;
            var size = isAnew
                ? await StoreRestore.BeginAnewAsync(copy, folder, options, name, why, terminal.Time, token)
                : await StoreRestore.GoOnAsync(copy, folder, options, terminal.Time, token);
            await terminal.Errors.WriteLineAsync(VisibleText.Of(
                $"Put {copy} back to {folder}; its record has {size} entries now. "
                + "Run 'verify' before you rely on it."));
            return ExitCode.Done;
        });
        return command;
    }
}
