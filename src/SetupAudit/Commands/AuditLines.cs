using System.Globalization;
using SetupAudit.Alerts;
using SetupAudit.Auditing;
using SetupAudit.Reports;

namespace SetupAudit.Commands;

/// <summary>Tells what came of an audit: what was read to standard output, what went wrong to standard error.</summary>
internal static class AuditLines
{
    public static void Show(AuditSummary summary, Terminal terminal)
    {
        var table = TextTable.For(terminal,
        [
            ("machine", false), ("read", true), ("not whole", true), ("setups", true), ("findings", true),
            ("withdrawn", true),
        ]);
        foreach (var machine in summary.Machines.Where(machine => machine.Machine.Length > 0 || machine.Read > 0))
            table.Row(
            [
                machine.Machine.Length == 0 ? "(sheets)" : VisibleText.Of(machine.Machine), Whole(machine.Read),
                Whole(machine.NotWhole), Whole(machine.SetupsRaised), Whole(machine.FindingsRaised),
                Whole(machine.FindingsWithdrawn),
            ]);
        table.End();
        foreach (var fault in summary.Machines.SelectMany(machine => machine.SourceFaults))
            terminal.Errors.WriteLine(VisibleText.Of(fault));
        var notWhole = summary.Machines.Sum(machine => machine.NotWhole);
        if (notWhole > 0)
            terminal.Errors.WriteLine($"{Figures.Count(notWhole, "arrival", "arrivals")} could not be read whole; "
                + "'setupaudit list arrivals' tells where and why.");
        ShowSent(summary.Sent, terminal);
        if (summary.Begun is { } origin)
            terminal.Errors.WriteLine(VisibleText.Of($"Began a new record, {origin}, for there was none. Write its key "
                + "down elsewhere: 'setupaudit verify' shows it."));
        if (summary.Unstamped is { } why)
            terminal.Errors.WriteLine(VisibleText.Of(
                $"The record was not time-stamped, and will be when the authority answers: {why}."));
    }

    /// <summary>What came of sending alerts, where anything was to be sent.</summary>
    private static void ShowSent(SendCount sent, Terminal terminal)
    {
        if (sent.Sent > 0)
            terminal.Errors.WriteLine($"{Figures.Count(sent.Sent, "message", "messages")} sent.");
        if (sent.Waiting > 0)
            terminal.Errors.WriteLine($"{Figures.Count(sent.Waiting, "message", "messages")} could not be sent now, "
                + "and will be tried again; 'setupaudit list alerts' tells why.");
        if (sent.GaveUp > 0)
            terminal.Errors.WriteLine($"{Figures.Count(sent.GaveUp, "message", "messages")} will not arrive; "
                + "'setupaudit list alerts' tells why, and 'setupaudit alerts resend --dead' has them sent again.");
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
