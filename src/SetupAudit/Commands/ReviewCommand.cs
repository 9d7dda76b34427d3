using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.People;
using SetupAudit.Reports;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>
/// <c>review</c>: a person accepts or rejects a setup, signed with name and password or told by name alone.
/// </summary>
internal static class ReviewCommand
{
    // A setup that runs may change between looking and signing; more often than this it is a fault.
    private const int Tries = 5;

    public static Command Make(Terminal terminal)
    {
        var setup = new Argument<string>("setup")
        {
            HelpName = "SETUP",
            Description = "The setup's id, or any unique beginning of it.",
        };
        var by = new Option<string>("--by") { HelpName = "NAME", Description = "Who reviews.", Required = true };
        var verdict = new Option<string>("--verdict")
        {
            HelpName = "accepted|rejected",
            Description = "What is said of the setup; not of the parts.",
            Required = true,
        };
        verdict.AcceptOnlyFromAmong("accepted", "rejected");
        var reason = new Option<string>("--reason") { HelpName = "TEXT", Description = "Why.", Required = true };
        var cause = new Option<string>("--cause")
        {
            HelpName = "CAUSE",
            Description = "The mistake that was found: later rankings learn from it.",
        };
        cause.AcceptOnlyFromAmong([.. CauseNames.All]);
        var file = CommonOptions.PasswordFile("The reviewer's password: with it the review is signed.");
        var config = CommonOptions.Config();
        var command = new Command("review", "Accepts or rejects a setup, with a reason.")
        {
            setup, by, verdict, reason, cause, file, config,
        };
        command.SetAction((parsed, token) => RunAsync(
            AuditStart.Options(parsed.GetRequiredValue(config), "review", terminal, progress: null),
            parsed.GetRequiredValue(setup),
            new ReviewGiven(
                parsed.GetRequiredValue(by), Word.Parse<ReviewVerdict>(parsed.GetRequiredValue(verdict)),
                parsed.GetRequiredValue(reason), parsed.GetValue(cause)),
            parsed.GetValue(file), terminal, token));
        return command;
    }

    private static async Task<int> RunAsync(AuditOptions options, string beginning, ReviewGiven given, string? file,
        Terminal terminal, CancellationToken token)
    {
        if (PersonName.Fault(given.By) is { } fault) throw new CommandException($"--by: {fault}");
        if (given.Reason.Trim().Length == 0) throw new CommandException("--reason: a review needs a reason.");
        using var store = await StoreReader.OpenAsync(options.Shop.Store, token);
        var head = await IdBeginning.FindAsync(store, DerivedKind.Setup, beginning, token);
        var desk = new SigningDesk(options, store, terminal);
        using var signed = await desk.SignInAsync(given.By, "--password-file", file, "review", token);
        for (var tries = 1; ; tries++)
        {
            var act = await ReviewActs.OfAsync(store, head, given, signed, new ShopClock(options.Shop),
                terminal.Time.GetUtcNow(), token);
            var answer = await desk.SendAsync(act, token);
            if (answer.Outcome == ActOutcome.Changed && tries < Tries)
            {
                head = await IdBeginning.FindAsync(store, DerivedKind.Setup, beginning, token);
                continue;
            }
            if (answer.Outcome != ActOutcome.Done) throw new CommandException(answer.Says, ExitCode.SomethingWrong);
            await SayAsync(act.Review, terminal);
            return ExitCode.Done;
        }
    }

    private static async Task SayAsync(Review? review, Terminal terminal)
    {
        if (review is null) return;
        await terminal.Out.WriteLineAsync(VisibleText.Of($"{review.Setup}: {ReviewWords.Of(review)}"));
        if (!review.IsSigned)
            await terminal.Errors.WriteLineAsync(
                "It is recorded and not signed: give --password-file (or type the password) to sign.");
    }
}
