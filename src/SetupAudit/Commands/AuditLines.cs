using System.Globalization;
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
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
