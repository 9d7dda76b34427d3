using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.People;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>prune</c>: drops the bytes of old evidence, signed by those who decide it.</summary>
internal static class PruneCommand
{
    public static Command Make(Terminal terminal)
    {
        var before = new Option<string>("--before")
        {
            HelpName = "DAY",
            Description = "Only evidence of earlier moments.",
            Required = true,
        };
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "The administrator who decides it." };
        var reason = new Option<string>("--reason") { HelpName = "TEXT", Description = "Why." };
        var file = CommonOptions.PasswordFile("The administrator's password.");
        var second = new Option<string>("--second")
        {
            HelpName = "NAME",
            Description = "Who decides it too: another administrator, or one of quality.",
        };
        var secondFile = new Option<string>("--second-password-file")
        {
            HelpName = "FILE",
            Description = "The second person's password. One line of UTF-8.",
        };
        var dryRun = new Option<bool>("--dry-run") { Description = "Say what would go, and do nothing." };
        var config = CommonOptions.Config();
        var command = new Command("prune", "Drops the bytes of old evidence; what was derived from it stands.")
        {
            before, by, reason, file, second, secondFile, dryRun, config,
        };
        command.SetAction(async (parsed, token) =>
        {
            using var progress = new ProgressLine(terminal);
            var options = AuditStart.Options(parsed.GetRequiredValue(config), "prune", terminal, progress);
            var beforeUtc = BeforeUtc(options, parsed.GetRequiredValue(before), terminal);
            var pruner = new Pruner(options, terminal.Time);
            if (parsed.GetValue(dryRun))
            {
                Show(await pruner.PlanAsync(beforeUtc, token), "would go", new WallClock(options.Shop), terminal);
                return ExitCode.Done;
            }
            var (name, why) = (parsed.GetValue(by)?.Trim() ?? "", parsed.GetValue(reason)?.Trim() ?? "");
            if (name.Length == 0 || why.Length == 0)
                throw new CommandException("Say who decides it with --by NAME and why with --reason TEXT.");
            if (why.Length > ReviewCheck.LongestReason)
                throw new CommandException($"--reason: longer than {ReviewCheck.LongestReason} letters.");
            using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
            var desk = new SigningDesk(options, store, terminal);
            using var first = await SignInAsync(desk, name, "--password-file", parsed.GetValue(file), token);
            using var other = parsed.GetValue(second) is { } also
                ? await SignInAsync(desk, also, "--second-password-file", parsed.GetValue(secondFile), token)
                : null;
            await RequireTwoAsync(store, first, other, token);
            var plan = await pruner.RunAsync(
                beforeUtc, why, SigningDesk.Account, other is null ? [first] : [first, other], token);
            progress.Dispose();
            Show(plan, "went", new WallClock(options.Shop), terminal);
            return ExitCode.Done;
        });
        return command;
    }

    private static DateTimeOffset BeforeUtc(AuditOptions options, string text, Terminal terminal)
    {
        var beforeUtc = Moments.Parse(new ShopClock(options.Shop), "--before", text) ?? DateTimeOffset.MinValue;
        return beforeUtc <= terminal.Time.GetUtcNow()
            ? beforeUtc
            : throw new CommandException($"--before: {Word.Of(beforeUtc)} has not come yet.");
    }

    private static async Task<SignedIn> SignInAsync(
        SigningDesk desk, string name, string option, string? file, CancellationToken token) =>
        await desk.SignInAsync(name, option, file, "prune", token)
        ?? throw new CommandException($"{option} is needed: who drops evidence proves the name with a password.");

    // One may decide alone only where the shop has nobody else who could look at it.
    private static async Task RequireTwoAsync(
        StoreReader store, SignedIn first, SignedIn? other, CancellationToken token)
    {
        if (first.Person is not { Role: PersonRole.Administrator } by)
            throw new CommandException($"--by: {first.Person?.Name} is no administrator; nothing was dropped.");
        if (other?.Person is { } also)
        {
            if (also.Person == by.Person)
                throw new CommandException("--second: a second person is needed, not the same one again.");
            if (!MayBeSecond(also))
                throw new CommandException(
                    $"--second: {also.Name} is neither an administrator nor of quality; nothing was dropped.");
            return;
        }
        var people = await PeopleList.ReadAsync(store, token);
        if (people.All.FirstOrDefault(one => one.Person != by.Person && !one.Locked && MayBeSecond(one)) is { } could)
            throw new CommandException("--second is needed: two decide that evidence is dropped where there are two, "
                + $"and {could.Name} could be the second.");
    }

    private static bool MayBeSecond(StoredPerson person) =>
        person.Role is PersonRole.Administrator or PersonRole.Quality;

    private static void Show(PrunePlan plan, string verb, WallClock clock, Terminal terminal)
    {
        var table = TextTable.For(terminal,
            [("machine", false), ("arrivals", true), ("bytes", true), ("last", false), ("line", false)]);
        foreach (var machine in plan.Machines)
            table.Row(
            [
                VisibleText.Of(machine.Machine), Figures.Plain(machine.Arrivals), Figures.Plain(machine.SizeBytes),
                machine.LastUtc is { } last ? clock.Time(last) : "-",
                machine.FromUtc is { } line ? clock.Time(line) : "-",
            ]);
        table.End();
        terminal.Out.WriteLine(plan.Sha256s.Count == 0
            ? $"Nothing is older than {clock.Time(plan.BeforeUtc)} that may go; nothing was done."
            : $"{plan.Sha256s.Count} files of evidence with {plan.SizeBytes} bytes {verb}; {plan.MovedBytes} stored "
                + "bytes among them stay and are moved. What was derived from them stands as it is recorded.");
        terminal.Out.WriteLine(clock.Times);
    }
}
