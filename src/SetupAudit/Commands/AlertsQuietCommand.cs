using System.CommandLine;
using SetupAudit.Alerts;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Outbox;

namespace SetupAudit.Commands;

/// <summary>
/// <c>alerts quiet</c>: nothing is sent of a machine for a time; what still stands at its end is. It is recorded with
/// who asked for it and why, listed, and can be ended before its time.
/// </summary>
internal static class AlertsQuietCommand
{
    private const int LongestText = 500;

    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var machine = Text("--machine", "M", "The machine, or * for all.");
        var until = Text("--until", "T", "Up to this moment (ISO 8601).");
        var by = Text("--by", "NAME", "Who asks for it.");
        var reason = Text("--reason", "TEXT", "Why.");
        var cancel = Text("--cancel", "ID", "Ends a quiet time before its time, by any beginning of its id.");
        var list = new Option<bool>("--list") { Description = "Lists the quiet times that run or are to come." };
        var command = new Command("quiet", "Sends nothing of a machine for a time, or ends that.")
        {
            machine, until, by, reason, cancel, list, config,
        };
        command.Validators.Add(parsed =>
        {
            var given = new[] { machine, until, cancel }.Where(option => parsed.GetValue(option) is not null).ToList();
            var missing = new[] { by, reason }.Where(option => parsed.GetValue(option) is null).ToList();
            var ofOne = parsed.GetValue(list) ? given.Count == 0 && missing.Count == 2
                : given.SequenceEqual([machine, until]) || given.SequenceEqual([cancel]);
            if (!ofOne)
                parsed.AddError(
                    "Give --machine and --until, or --cancel, each with --by and --reason; or --list alone.");
            else if (!parsed.GetValue(list) && missing.Count > 0)
                parsed.AddError($"{missing[0].Name} is missing: who asks for quiet, and why, is recorded.");
        });
        command.SetAction(async (parsed, token) =>
        {
            var loaded = ShopFile.LoadToRun(parsed.GetRequiredValue(config));
            var shop = loaded.Config ?? throw new InvalidOperationException("a configuration with faults was loaded");
            if (parsed.GetValue(list)) return await ListAsync(shop, terminal, token);
            var nowUtc = terminal.Time.GetUtcNow();
            var id = AskBox.NewId(nowUtc);
            var ended = parsed.GetValue(cancel);
            var quiet = new StoredQuiet
            {
                Id = id,
                AtUtc = nowUtc,
                Machine = MachineOf(shop, parsed.GetValue(machine)),
                UntilUtc = UntilOf(shop, parsed.GetValue(until), nowUtc),
                By = Short("--by", parsed.GetValue(by)),
                Reason = Short("--reason", parsed.GetValue(reason)),
                Cancels = ended,
            };
            var answer = await AlertsAsking.DoAsync(loaded, new AlertAsk { Id = id, Quiet = quiet }, terminal, token);
            await (answer.Done ? terminal.Out : terminal.Errors).WriteLineAsync(VisibleLines.Of(
                answer.Done && ended is null ? $"Quiet {answer.Says} until {Word.Of(quiet.UntilUtc)}."
                : answer.Done ? "The quiet time is ended."
                : answer.Says));
            return answer.Done ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    private static async Task<int> ListAsync(ShopConfig shop, Terminal terminal, CancellationToken token)
    {
        using var store = await StoreReader.OpenAsync(shop.Store, token);
        var nowUtc = terminal.Time.GetUtcNow();
        var titles = new[] { "quiet", "machine", "from", "until", "by", "reason" };
        var table = TextTable.For(terminal, [.. titles.Select(title => (title, false))]);
        foreach (var quiet in new QuietTimes(await store.Outbox.QuietsAsync(token)).NotEnded
            .Where(quiet => quiet.UntilUtc > nowUtc))
            table.Row(
            [
                quiet.Id, VisibleText.Of(quiet.Machine), Word.Of(quiet.AtUtc), Word.Of(quiet.UntilUtc),
                VisibleText.Of(quiet.By), VisibleText.Of(quiet.Reason),
            ]);
        table.End();
        return ExitCode.Done;
    }

    private static string MachineOf(ShopConfig shop, string? name) =>
        name is null or QuietTimes.Everywhere ? QuietTimes.Everywhere : Named.Machine(shop, name)?.Name ?? name;

    private static DateTimeOffset UntilOf(ShopConfig shop, string? text, DateTimeOffset nowUtc)
    {
        if (Moments.ParseUntil(new ShopClock(shop), "--until", text) is not { } untilUtc) return nowUtc;
        return untilUtc > nowUtc
            ? untilUtc
            : throw new CommandException($"--until: {Word.Of(untilUtc)} is over; give a moment to come.");
    }

    private static string Short(string option, string? text) =>
        string.IsNullOrWhiteSpace(text) ? throw new CommandException($"{option} is empty; say it in a few words.")
        : text.Length > LongestText ? throw new CommandException($"{option} is longer than {LongestText} letters.")
        : text.Trim();

    private static Option<string?> Text(string name, string help, string about) =>
        new(name) { HelpName = help, Description = about };
}
