using System.CommandLine;
using SetupAudit.Readings;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary><c>list</c>: what is known, as a table, JSON or CSV.</summary>
internal static class ListCommand
{
    public static Command Make(Terminal terminal)
    {
        var names = string.Join(", ", ListKinds.All.Select(kind => kind.Name));
        var what = new Argument<string>("what") { HelpName = "WHAT", Description = $"One of {names}." };
        what.Validators.Add(parsed =>
        {
            if (parsed.Tokens is [{ Value: var given }] && ListKinds.All.All(kind => kind.Name != given))
                parsed.AddError($"'{given}' is nothing that can be listed; allowed are {names}.");
        });
        var config = CommonOptions.Config();
        var machine = CommonOptions.Machine(required: false);
        var since = new Option<string>("--since") { HelpName = "T", Description = "From this moment on (ISO 8601)." };
        var until = new Option<string>("--until")
        {
            HelpName = "T",
            Description = "Up to and with this moment; a day without a time counts whole.",
        };
        var program = CommonOptions.Program();
        var withdrawn = new Option<bool>("--withdrawn") { Description = "Also what no longer holds, and why." };
        var json = CommonOptions.Json();
        var csv = CommonOptions.Csv();
        var command = new Command("list", $"Lists {names}.")
        {
            what, config, machine, since, until, program, withdrawn, json, csv,
        };
        command.Validators.Add(parsed =>
        {
            if (parsed.GetValue(json) && parsed.GetValue(csv))
                parsed.AddError("--json and --csv cannot both be given.");
        });
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var clock = new ShopClock(shop);
            var request = new ListRequest
            {
                What = ListKinds.Find(parsed.GetRequiredValue(what)),
                Shop = shop,
                Machine = Named.Machine(shop, parsed.GetValue(machine))?.Name,
                SinceUtc = Moments.Parse(clock, "--since", parsed.GetValue(since)),
                UntilUtc = Moments.ParseUntil(clock, "--until", parsed.GetValue(until)),
                Program = parsed.GetValue(program) is { } name ? ProgramName.Normalise(name) : null,
                Withdrawn = parsed.GetValue(withdrawn),
            };
            RequireMeaning(request);
            using var rows = await ListSource.OpenAsync(request, terminal, token);
            if (parsed.GetValue(json))
                await ListWriter.JsonAsync(rows.RowsAsync(token), request.Withdrawn, terminal.Out);
            else if (parsed.GetValue(csv))
                await ListWriter.CsvAsync(rows.RowsAsync(token), request.What, request.Withdrawn, terminal.Out);
            else
                await ListWriter.TableAsync(
                    rows.RowsAsync(token), request.What, request.Withdrawn, new WallClock(shop), terminal);
            return ExitCode.Done;
        });
        return command;
    }

    // An option that would be passed over in silence gives a wrong list.
    private static void RequireMeaning(ListRequest request)
    {
        var name = request.What.Name;
        if (request.Program is not null && !request.What.KnowsPrograms)
            throw new CommandException($"--program says nothing about {name}; it goes with setups, changes, findings, "
                + "measurements, programs and cycles.");
        if (!request.What.KnowsMoments && (request.SinceUtc ?? request.UntilUtc) is not null)
            throw new CommandException(
                $"--since and --until say nothing about {name}, which tells how things stand now.");
        if (request.What.IsTimed && request.Withdrawn)
            throw new CommandException($"--withdrawn says nothing about {name}: what people did is never withdrawn.");
        if (request.What.Kind is null && request.Withdrawn)
            throw new CommandException($"--withdrawn says nothing about {name}, which tells how things stand now.");
    }
}
