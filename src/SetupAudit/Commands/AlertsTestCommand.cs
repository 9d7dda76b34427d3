using System.CommandLine;
using System.Globalization;
using SetupAudit.Alerts;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>
/// <c>alerts test</c>: one marked message by every channel, and what came of each. It needs no record and leaves none.
/// </summary>
internal static class AlertsTestCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("test", "Sends one message, marked as a test, by every channel.") { config };
        command.SetAction(async (parsed, token) =>
            await SendAsync(ShopFile.Load(parsed.GetRequiredValue(config)), terminal, token));
        return command;
    }

    private static async Task<int> SendAsync(ShopConfig shop, Terminal terminal, CancellationToken token)
    {
        var channels = AlertChannels.Of(shop.Alerts, terminal.Time);
        if (channels.Count == 0)
            throw new CommandException("Alerts names no channel; allowed are Mail, Webhook, Syslog and Files.");
        var message = Message(shop, terminal.Time.GetUtcNow());
        var status = ExitCode.Done;
        foreach (var channel in channels)
        {
            var result = await channel.SendAsync(message, token);
            if (result.Outcome is not (SendOutcome.Sent or SendOutcome.SentUnconfirmed))
                status = ExitCode.SomethingWrong;
            await terminal.Out.WriteLineAsync(
                VisibleText.Of($"{channel.Name} to {channel.To}: {Words(result.Outcome)}. {result.Reason}"));
        }
        return status;
    }

    private static AlertMessage Message(ShopConfig shop, DateTimeOffset nowUtc) => new()
    {
        Id = string.Create(CultureInfo.InvariantCulture, $"test@{nowUtc.UtcDateTime:yyyyMMdd-HHmmssfff}"),
        Thread = "test",
        Kind = AlertKind.Test,
        Severity = Severity.Note,
        QueuedUtc = nowUtc,
        Machine = "(no machine)",
        Shop = shop.Name,
        TimeZone = shop.TimeZone,
    };

    private static string Words(SendOutcome outcome) => outcome switch
    {
        SendOutcome.Sent => "sent",
        SendOutcome.SentUnconfirmed => "sent, unconfirmed",
        SendOutcome.Temporary => "not sent, may go later",
        SendOutcome.Permanent => "not sent, and would not go later",
        _ => "not sent, until something is changed",
    };
}
