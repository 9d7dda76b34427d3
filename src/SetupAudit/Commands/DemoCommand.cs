using System.CommandLine;
using SetupAudit.Demo;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>demo</c>: builds the made-up shop, audits it, tells what was found, and writes every report.</summary>
internal static class DemoCommand
{
    private const string DefaultFolder = "setupaudit-demo";
    private const string ReportFolder = "reports";

    public static Command Make(Terminal terminal)
    {
        var folder = new Option<string>("--folder")
        {
            HelpName = "DIR",
            Description = $"Where to build the shop: a new or empty folder; {DefaultFolder} where not given.",
        };
        var command = new Command("demo", "A made-up shop: builds its shares, audits them, writes every report.")
        {
            folder,
        };
        command.SetAction(async (parsed, token) =>
        {
            var path = Path.GetFullPath(parsed.GetValue(folder) ?? DefaultFolder);
            if (File.Exists(path) || (Directory.Exists(path) && Directory.EnumerateFileSystemEntries(path).Any()))
                throw new CommandException($"--folder: {path} is not empty; give a new or empty folder.");
            DemoShop.Build(path);
            var config = Path.Combine(path, DemoShop.ConfigurationFile);
            AuditLines.Show(await OnceCommand.RunAsync(config, terminal, token), terminal);
            await ReportAsync(config, path, terminal, token);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task ReportAsync(string config, string path, Terminal terminal, CancellationToken token)
    {
        var shop = ShopFile.Load(config);
        var reports = Directory.CreateDirectory(Path.Combine(path, ReportFolder)).FullName;
        using var store = await StoreReader.OpenAsync(shop.Store, token);
        var count = 0;
        terminal.Out.WriteLine();
        await foreach (var head in store.DerivedAsync(new DerivedQuery { Kind = DerivedKind.Setup }, token))
        {
            var report = await ReportCommand.ReadAsync(shop, store, head, new QuotedLines(store), terminal.Time, token);
            await OutFile.WriteAsync(Path.Combine(reports, FileName(head.Id)), HtmlReport.Of(report), token);
            foreach (var finding in report.Setup.Findings.Where(finding => finding.Severity >= Severity.High))
                terminal.Out.WriteLine(VisibleText.Of(
                    $"{Word.Of(finding.Severity),-5} {finding.Finding}: {finding.Message}"));
            count++;
        }
        terminal.Out.WriteLine();
        terminal.Out.WriteLine($"{Figures.Count(count, "report lies", "reports lie")} in {reports}");
        terminal.Out.WriteLine($"The shop lies in {path}; go on with: setupaudit list findings --config {config}");
    }

    // Ids hold an @ and no character that a file name may not.
    private static string FileName(string setup) => setup + ".html";
}
