using System.CommandLine;
using SetupAudit.People;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// <c>people list</c>: everybody, with when they last signed: what is to be looked through now and then.
/// </summary>
internal static class PeopleListCommand
{
    private static readonly ListWhat What = new("people", null,
        [
            ListColumn.Of("name"), ListColumn.Of("role"), ListColumn.Of("state"), ListColumn.Time("since"),
            ListColumn.Time("lastSignIn", "last sign-in"), ListColumn.Of("why"), ListColumn.Of("by"),
        ],
        ["person", "name", "role", "state", "since", "lastSignIn", "why", "by", "signed", "account"]);

    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var json = CommonOptions.Json();
        var csv = CommonOptions.Csv();
        var command = new Command("list", "Lists everybody, the locked ones too.") { config, json, csv };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            using var store = await StoreReader.OpenAsync(shop.Store, token);
            var rows = RowsAsync(store, token);
            if (parsed.GetValue(json)) await ListWriter.JsonAsync(rows, withdrawn: false, terminal.Out);
            else if (parsed.GetValue(csv)) await ListWriter.CsvAsync(rows, What, withdrawn: false, terminal.Out);
            else await ListWriter.TableAsync(rows, What, withdrawn: false, new WallClock(shop), terminal);
            return ExitCode.Done;
        });
        return command;
    }

    private static async IAsyncEnumerable<ListRow> RowsAsync(
        StoreReader store, [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken token)
    {
        foreach (var person in (await PeopleList.ReadAsync(store, token)).All)
        {
            var last = (await store.SignInsAsync(person.Person, SignInDelay.TriesLookedAt, token))
                .FirstOrDefault(given => given.Outcome == SignInOutcome.Right);
            yield return new ListRow(ShapeBody.Of(new PersonLine(person, last?.AtUtc)), null);
        }
    }
}
