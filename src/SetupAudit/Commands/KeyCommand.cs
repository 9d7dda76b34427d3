using System.CommandLine;
using SetupAudit.Reports;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>key</c>: the key that signs the record.</summary>
internal static class KeyCommand
{
    public static Command Make(Terminal terminal) => new("key", "The key that signs the record: rotate.")
    {
        Rotate(terminal),
    };

    private static Command Rotate(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "Who decides it.", Required = true };
        var reason = new Option<string>("--reason") { HelpName = "TEXT", Description = "Why.", Required = true };
        var command = new Command("rotate", "Has a new key sign the record, and destroys the old one.")
        {
            by, reason, config,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var (name, why) = (parsed.GetRequiredValue(by).Trim(), parsed.GetRequiredValue(reason).Trim());
            if (name.Length == 0 || why.Length == 0)
                throw new CommandException("Say who decides it with --by NAME and why with --reason TEXT.");
            // A folder without a record says so, and gets none by this.
            using (await StoreReader.OpenAsync(shop.Store, token))
            {
            }
            await using var store = await AuditStore.OpenAsync(
                shop.Store, RecordOptions.Of(shop), terminal.Time, token);
            var key = await store.RotateKeyAsync(new KeyOrder(name, why, SigningDesk.Account), token);
            await terminal.Out.WriteLineAsync(VisibleText.Of(key.ToString()));
            await terminal.Errors.WriteLineAsync(
                "This key signs the record from here on. Write it down elsewhere beside the old one: whoever kept "
                + "the old one can still check with it. The old private key was overwritten and its file taken away; a "
                + "copy of it in a backup or a snapshot, or what a disk keeps of overwritten blocks, is out of this "
                + "program's reach. Put the new key file where you keep such keys.");
            return ExitCode.Done;
        });
        return command;
    }
}
