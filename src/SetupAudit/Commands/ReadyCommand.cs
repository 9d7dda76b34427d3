using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.Readings;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>ready</c>: what stands against the setup before cutting; it never says that cutting may begin.</summary>
internal static class ReadyCommand
{
    public static Command Make(Terminal terminal)
    {
        var machine = CommonOptions.Machine(required: true);
        var program = new Option<string>("--program")
        {
            HelpName = "P",
            Description = "The program that is to run; the one in hand where not given.",
        };
        var config = CommonOptions.Config();
        var json = CommonOptions.Json();
        var command = new Command("ready", "Before cutting: what stands against this setup now.")
        {
            machine, program, config, json,
        };
        command.SetAction(async (parsed, token) =>
        {
            var options = AuditStart.Options(parsed.GetRequiredValue(config), "ready", terminal, progress: null);
            var of = Named.Machine(options.Shop, parsed.GetRequiredValue(machine));
            if (of is null) return ExitCode.AtFault;
            var asked = parsed.GetValue(program) is { } name ? ProgramName.Normalise(name) : null;
            var ready = await AskAsync(options, of, asked, terminal.Time.GetUtcNow(), token);
            if (parsed.GetValue(json)) await terminal.Out.WriteLineAsync(ShapeBody.Of(ready));
            else Show(ready, options.Shop, terminal);
            return ready.Verdict == ReadyVerdict.NothingFound ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    private static async Task<ReadyView> AskAsync(
        AuditOptions options, MachineConfig machine, string? program, DateTimeOffset nowUtc, CancellationToken token)
    {
        using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
        var now = await MachineNow.ReadAsync(options.Shop, machine, store, token);
        var derived = now.Derivation.Ready(now.State, program, nowUtc, now.Unread);
        var answer = new ReadyCase
        {
            Machine = machine,
            Setup = derived.Setup,
            Programs = derived.Programs,
            Findings = derived.Findings,
            HasSetup = now.State.Live.ContainsKey(now.State.Pallet),
            NowUtc = nowUtc,
            Fresh = TimeSpan.FromMinutes(options.Shop.FreshMinutes),
            LastCycleUtc = LastCycle(now),
            Unread = now.Unread,
            AlsoUnknown = await store.IsDerivedForAsync(
                machine.Name, options.BasisOf(machine.Name), options.ProgramVersion, token)
                ? []
                : ["the record was derived by another configuration or version; 'once' or the service derives it anew"],
        };
        return Readiness.Of(await EarlierDoubts.AddAsync(answer, Readiness.Of(answer), store, token));
    }

    private static DateTimeOffset? LastCycle(MachineNow now)
    {
        var cycles = now.State.LastCycles.Values.Concat(now.State.Live.Values.SelectMany(live => live.Cycles));
        if (now.State.Running is { } running) cycles = cycles.Append(running);
        return cycles.Select(cycle => (DateTimeOffset?)cycle.StartUtc).Max();
    }

    private static void Show(ReadyView ready, ShopConfig shop, Terminal terminal)
    {
        terminal.Out.WriteLine(VisibleText.Of(Sentence(ready, shop)));
        foreach (var reason in ready.Unknown) terminal.Out.WriteLine(VisibleText.Of($"  not known: {reason}"));
        foreach (var finding in ready.Findings.OrderByDescending(finding => finding.Severity))
            terminal.Out.WriteLine(VisibleText.Of($"  {Word.Of(finding.Severity)} {finding.Rule}: {finding.Message}"));
        var clock = new WallClock(shop);
        var table = TextTable.For(terminal,
            [("register", false), ("axis", false), ("value", true), ("state", false), ("since", false)]);
        foreach (var register in ready.Registers)
            foreach (var (axis, value) in register.Axes)
                table.Row(
                [
                    register.Register.ToString(), axis.ToString(), Figures.Plain(value.After),
                        State(value, ready.Unknown.Count > 0),
                    value.SinceUtc is { } since ? clock.Time(since) : "",
                ]);
        table.End();
        terminal.Out.WriteLine(clock.Sentence);
        terminal.Out.WriteLine("No source shows: " + string.Join("; ", NotSeen.Always) + ".");
        terminal.Out.WriteLine("This replaces no dry run, no single block and no rule of your shop.");
    }

    private static string Sentence(ReadyView ready, ShopConfig shop)
    {
        var what = ready.Program is null ? ready.Machine : $"{ready.Machine}, {ready.Program}";
        var figures = new Figures(TimeZoneInfo.FindSystemTimeZoneById(shop.TimeZone));
        return ready is { Verdict: ReadyVerdict.NothingFound, AsOfUtc: { } asOf }
            ? $"{what}: nothing found as of {figures.LocalClock(asOf)}."
            : $"{what}: do not cut before you have looked.";
    }

    private static string State(OffsetView value, bool unsure) =>
        (value.Set ? "set" : value.After is null ? "no value known" : "carried over")
        + (value.By is { } by ? ", " + Word.Of(by) : "") + (
            value.Needed ? "" : unsure ? ", need not known" : ", not needed");
}
