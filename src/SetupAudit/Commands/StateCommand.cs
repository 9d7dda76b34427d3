using System.CommandLine;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>state</c>: every register and tool offset as it stood at a moment.</summary>
internal static class StateCommand
{
    public static Command Make(Terminal terminal)
    {
        var machine = CommonOptions.Machine(required: true);
        var at = new Option<string>("--at") { HelpName = "T", Description = "The moment (ISO 8601).", Required = true };
        var config = CommonOptions.Config();
        var json = CommonOptions.Json();
        var command = new Command("state", "Every register and tool offset as it stood at a moment.")
        {
            machine, at, config, json,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var name = Named.Machine(shop, parsed.GetRequiredValue(machine))?.Name ?? "";
            var moment = Moments.Parse(new ShopClock(shop), "--at", parsed.GetRequiredValue(at));
            using var store = await StoreReader.OpenAsync(shop.Store, token);
            var state = await ReadAsync(store, name, moment ?? terminal.Time.GetUtcNow(), token);
            var clock = new WallClock(shop);
            if (await store.Prunings.LineAsync(name, token) is { } line && state.AtUtc < line.FromUtc)
                await terminal.Errors.WriteLineAsync(VisibleText.Of($"The evidence of {name} before "
                    + $"{clock.Time(line.FromUtc)} was dropped: this rests on what was recorded of it before. "
                    + "'list trail' says when, by whom and why."));
            if (parsed.GetValue(json)) await terminal.Out.WriteLineAsync(ShapeBody.Of(state));
            else Show(state, clock, terminal);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<StateView> ReadAsync(
        StoreReader store, string machine, DateTimeOffset moment, CancellationToken token)
    {
        var state = new StateAt(moment);
        var query = new DerivedQuery { Kind = DerivedKind.Change, Machine = machine };
        await foreach (var row in store.DerivedAsync(query, token))
            state.Take(ShapeBody.Read<ChangeView>(row.Body));
        var last = await store.LastMomentsAsync(machine, moment, token);
        return new StateView
        {
            Machine = machine,
            AtUtc = moment,
            LastEvidenceUtc = last.Count == 0 ? null : last.Values.Max(),
            Offsets = state.Offsets,
        };
    }

    private static void Show(StateView state, WallClock clock, Terminal terminal)
    {
        terminal.Out.Write(state.LastEvidenceUtc is { } last
            ? $"{state.Machine} at {clock.Time(state.AtUtc)}; last evidence before it {clock.Time(last)} "
                + $"({Age(state.AtUtc - last)} old)\n"
            : $"{state.Machine} at {clock.Time(state.AtUtc)}; no evidence before it\n");
        var table = TextTable.For(terminal,
            [("what", false), ("value", true), ("unit", false), ("since", false), ("by", false), ("line", false)]);
        foreach (var offset in state.Offsets)
            table.Row(
            [
                offset.Key.ToString(), Value(offset), Units.Length.ShortName(offset.Brought.Unit),
                    clock.Time(offset.Brought.ToUtc),
                offset.Brought.IsFirstSight ? "first seen" : Word.Of(offset.Brought.By),
                VisibleText.Of($"{offset.Brought.File}:{offset.Brought.Line}"),
            ]);
        table.End();
        terminal.Out.WriteLine(clock.Sentence);
    }

    private static string Value(StandingView offset)
    {
        var value = Plain(offset.Value);
        return offset.Maybe is { } maybe ? $"{value} or {Plain(maybe.After)}" : value;
    }

    private static string Plain(decimal? value) =>
        value?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "no value";

    private static string Age(TimeSpan age) => age switch
    {
        { TotalMinutes: < 2 } => Figures.Count((int)age.TotalSeconds, "second", "seconds"),
        { TotalHours: < 2 } => Figures.Count((int)age.TotalMinutes, "minute", "minutes"),
        { TotalDays: < 2 } => Figures.Count((int)age.TotalHours, "hour", "hours"),
        _ => Figures.Count((int)age.TotalDays, "day", "days"),
    };
}
