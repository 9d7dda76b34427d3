using System.CommandLine;
using SetupAudit.Store.Postgres;

namespace SetupAudit.Commands;

/// <summary><c>tables</c>: what the owner of a PostgreSQL database runs, so that the service need not own it.</summary>
internal static class TablesCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("tables", "Prints the SQL that builds the tables in PostgreSQL, for their owner.")
        {
            config,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            if (shop.Store.Postgres is null)
                throw new CommandException("Store.Postgres is not set: the tables of a store in SQLite are built by "
                    + "the program itself.");
            var script = await PostgresTables.ScriptAsync(shop.Store, terminal.Time.GetUtcNow(), token);
            await terminal.Out.WriteAsync(script);
            return ExitCode.Done;
        });
        return command;
    }
}
