using System.CommandLine;
using SetupAudit.Records;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Keeping;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Commands;

/// <summary><c>backup</c>: copies the store into another folder, also while the service runs.</summary>
internal static class BackupCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var to = new Option<string>("--out")
        {
            HelpName = "DIR",
            Description = "The folder of the copy; given again, only what is new is copied.",
            Required = true,
        };
        var command = new Command("backup", "Copies the record and its evidence, also while the service runs.")
        {
            config, to,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            RequireSqlite(shop);
            var target = Path.GetFullPath(parsed.GetRequiredValue(to));
            OutFile.RequireNotWatched(shop, target);
            OutFile.RequireOutside(shop.Store.Folder, target);
            var report = await StoreCopy.MakeAsync(shop.Store.Folder, target, token);
            await terminal.Errors.WriteLineAsync(VisibleText.Of(
                $"Copied the record with {report.Entries} entries and "
                + $"{Figures.Count(report.Segments, "new file", "new files")} of evidence ({report.Bytes} bytes) to "
                + $"{target}. The key that signs is not part of it: keep a copy of it elsewhere."));
            var isSaid = await SayAsync(shop, target, report, terminal, token);
            // A copy that was never read back is a hope.
            var check = await StoreVerifier.RunAsync(new VerifyOptions
            {
                Folder = target,
                AuthorityFile = shop.Store.TimeStamps?.CertificateFile,
            }, token);
            VerifyLines.Write(check, terminal);
            if (!check.Holds) return ExitCode.SomethingWrong;
            await StoreCopy.LetGoAsync(target, token);
            return isSaid ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    /// <summary>Rows in a database of their own are copied by its own programs.</summary>
    public static void RequireSqlite(ShopConfig shop)
    {
        if (shop.Store.Postgres is not null)
            throw new CommandException("The rows of this store are in PostgreSQL, which has programs of its own to "
                + "copy them and to put them back: first the checkpoints of the folder are copied, then the database "
                + "is dumped, then the evidence is copied. docs/operations.md has the commands.");
    }

    // A service that runs holds the record; that a copy was made is then not in it. Where the record cannot be written
    // for another reason, a copy is wanted all the more.
    private static async Task<bool> SayAsync(
        ShopConfig shop, string target, CopyReport report, Terminal terminal, CancellationToken token)
    {
        try
        {
            await using var store = await AuditStore.OpenAsync(
                shop.Store, RecordOptions.Of(shop), terminal.Time, token);
            await store.SayAsync([new RecordWord(RecordKind.Keeping, Said.Of(json =>
            {
                json.WriteString("did", "copied");
                json.WriteString("to", target);
                json.WriteNumber("entries", report.Entries);
            }))], token);
            return true;
        }
        catch (StoreException fault) when (fault.IsHeld)
        {
            await terminal.Errors.WriteLineAsync(
                "The service holds the record, so that a copy was made is not said in it.");
            return true;
        }
        catch (StoreException fault)
        {
            await terminal.Errors.WriteLineAsync(VisibleText.Of(
                $"That a copy was made could not be said in the record. {fault.Message}"));
            return false;
        }
    }
}
