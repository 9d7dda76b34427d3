using System.CommandLine;
using SetupAudit.Auditing;
using SetupAudit.Reports;
using SetupAudit.Shapes;

namespace SetupAudit.Commands;

/// <summary><c>rebuild</c>: derives everything again from the evidence and says what differs.</summary>
internal static class RebuildCommand
{
    private const int Shown = 50;

    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("rebuild", "Derives everything again from the evidence and says what differs.")
        {
            config,
        };
        command.SetAction(async (parsed, token) =>
        {
            using var progress = new ProgressLine(terminal);
            var options = AuditStart.Options(parsed.GetRequiredValue(config), "rebuild", terminal, progress);
            var report = await new Rebuilder(options, terminal.Time).RunAsync(token);
            progress.Dispose();
            Show(report, terminal);
            return report.DifferenceCount == 0 ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    private static void Show(RebuildReport report, Terminal terminal)
    {
        foreach (var difference in report.Differences.Take(Shown))
            terminal.Out.WriteLine(VisibleText.Of(
                $"{Word.Of(difference.Kind)} {difference.Id}: {Says(difference)}"));
        if (report.DifferenceCount > Shown)
            terminal.Out.WriteLine($"and {report.DifferenceCount - Shown} more");
        if (report.Waiting > 0)
            terminal.Out.WriteLine($"{Figures.Count((int)report.Waiting, "arrival", "arrivals")} not read yet and not "
                + "compared: 'once' or the service reads and derives what was taken in.");
        if (report.DifferenceCount > 0)
            terminal.Out.WriteLine("Where a service was stopped or works meanwhile, let it derive what it took in "
                + "('once' does), and compare again.");
        terminal.Out.WriteLine(report.DifferenceCount == 0
            ? $"{report.Compared} rows derived again: all the same."
            : $"{report.Compared} rows derived again: {report.DifferenceCount} differ.");
        if (report.Standing > 0)
            terminal.Out.WriteLine($"{report.Standing} rows rest on evidence that was dropped, and stand as they were "
                + "recorded.");
    }

    private static string Says(RebuildDifference difference) => difference switch
    {
        { Recorded: null } => "derived again, and not in the record",
        { Rebuilt: null } => "in the record, and not derived again",
        _ => "derived again otherwise than recorded",
    };
}
