using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.People;
using SetupAudit.Reports;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>people</c>: who may sign. There is no account that nobody made.</summary>
internal static class PeopleCommand
{
    public static Command Make(Terminal terminal) => new("people", "Who may sign reviews: add, lock, list, password.")
    {
        Add(terminal), Lock(terminal), Password(terminal), PeopleListCommand.Make(terminal),
    };

    private static Command Add(Terminal terminal)
    {
        var name = Name("The person's name as it is to be printed.");
        var role = new Option<string>("--role")
        {
            HelpName = string.Join('|', PersonRole.All),
            Description = "What the person is in the shop; it is shown beside what they sign.",
            Required = true,
        };
        role.AcceptOnlyFromAmong([.. PersonRole.All]);
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "Who adds the person." };
        var file = CommonOptions.PasswordFile("The new person's password, which nobody else should know.");
        var config = CommonOptions.Config();
        var command = new Command("add", "Adds a person.") { name, role, by, file, config };
        command.SetAction(async (parsed, token) =>
        {
            var given = parsed.GetRequiredValue(name);
            if (PersonName.Fault(given) is { } fault) throw new CommandException(fault);
            var options = Options(parsed.GetRequiredValue(config), terminal);
            var password = PasswordInput.New("--password-file", parsed.GetValue(file), terminal);
            if (PasswordRules.Fault(password, given) is { } weak) throw new CommandException(weak);
            var act = PersonActs.Add(
                new PersonGiven(given, terminal.Time.GetUtcNow(), "added, by whoever can write the store",
                    parsed.GetValue(by), SigningDesk.Account), parsed.GetRequiredValue(role), password);
            await SendAsync(new ActSender(options, terminal), act, $"{PersonName.Normal(given)} is added.", terminal,
                token);
            return ExitCode.Done;
        });
        return command;
    }

    private static Command Lock(Terminal terminal)
    {
        var name = Name("Who may sign no more.");
        var reason = new Option<string>("--reason") { HelpName = "TEXT", Description = "Why.", Required = true };
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "Who locks.", Required = true };
        var file = CommonOptions.PasswordFile("The password of who locks: with it the lock is signed.");
        var config = CommonOptions.Config();
        var command = new Command("lock", "Locks a person for good; the name stays taken.")
        {
            name, reason, by, file, config,
        };
        command.SetAction(async (parsed, token) =>
        {
            var options = Options(parsed.GetRequiredValue(config), terminal);
            using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
            var known = await KnownAsync(store, parsed.GetRequiredValue(name), token);
            var desk = new SigningDesk(options, store, terminal);
            using var signed = await desk.SignInAsync(
                parsed.GetRequiredValue(by), "--password-file", parsed.GetValue(file), "lock", token);
            var given = new PersonGiven(known.Name, terminal.Time.GetUtcNow(),
                $"locked: {parsed.GetRequiredValue(reason).Trim()}",
                PersonName.Normal(parsed.GetRequiredValue(by)), SigningDesk.Account);
            await SendAsync(new ActSender(options, terminal), PersonActs.Lock(given, known, signed),
                $"{known.Name} is locked and can sign nothing; what they signed stays as it was signed.", terminal,
                token);
            return ExitCode.Done;
        });
        return command;
    }

    private static Command Password(Terminal terminal)
    {
        var name = Name("Whose password: your own.");
        var old = CommonOptions.PasswordFile("Your old password.");
        var fresh = new Option<string>("--new-password-file")
        {
            HelpName = "FILE",
            Description = "Your new password. One line of UTF-8.",
        };
        var config = CommonOptions.Config();
        var command = new Command("password", "Gives yourself another password; needs the old one.")
        {
            name, old, fresh, config,
        };
        command.SetAction(async (parsed, token) =>
        {
            var options = Options(parsed.GetRequiredValue(config), terminal);
            using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
            var known = await KnownAsync(store, parsed.GetRequiredValue(name), token);
            var desk = new SigningDesk(options, store, terminal);
            using var signed = await desk.SignInAsync(
                known.Name, "--password-file", parsed.GetValue(old), "password", token)
                ?? throw new CommandException("--password-file is needed: a new password needs the old one.");
            var password = PasswordInput.New("--new-password-file", parsed.GetValue(fresh), terminal);
            if (PasswordRules.Fault(password, known.Name) is { } weak) throw new CommandException(weak);
            var given = new PersonGiven(
                known.Name, terminal.Time.GetUtcNow(), "gave themselves another password", null, SigningDesk.Account);
            await SendAsync(new ActSender(options, terminal), PersonActs.Password(given, signed, password),
                $"{known.Name} has a new password.", terminal, token);
            return ExitCode.Done;
        });
        return command;
    }

    private static Argument<string> Name(string about) => new("name") { HelpName = "NAME", Description = about };

    private static AuditOptions Options(string config, Terminal terminal) =>
        AuditStart.Options(config, "people", terminal, progress: null);

    private static async Task<StoredPerson> KnownAsync(StoreReader store, string name, CancellationToken token) =>
        (await PeopleList.ReadAsync(store, token)).Named(name)
        ?? throw new CommandException($"Nobody is called {name}; 'setupaudit people list' shows everybody.");

    private static async Task SendAsync(
        ActSender sender, Act act, string done, Terminal terminal, CancellationToken token)
    {
        var answer = await sender.SendAsync(act, token);
        if (answer.Outcome != ActOutcome.Done) throw new CommandException(answer.Says, ExitCode.SomethingWrong);
        await terminal.Errors.WriteLineAsync(VisibleText.Of(done));
    }
}
