using System.CommandLine;
using System.Text;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Bundles;

namespace SetupAudit.Commands;

/// <summary><c>export</c>: a bundle of one setup that can be checked without this program.</summary>
internal static class ExportCommand
{
    public static Command Make(Terminal terminal)
    {
        var setup = new Argument<string>("setup")
        {
            HelpName = "SETUP",
            Description = "The setup's id, or any unique beginning of it.",
        };
        var config = CommonOptions.Config();
        var to = new Option<string>("--out")
        {
            HelpName = "FILE.zip",
            Description = "Where to write the bundle.",
            Required = true,
        };
        var command = new Command("export", "A bundle of evidence that can be checked without this program.")
        {
            setup, config, to,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var path = Path.GetFullPath(parsed.GetRequiredValue(to));
            if (!Path.GetExtension(path).Equals(".zip", StringComparison.OrdinalIgnoreCase))
                throw new CommandException($"--out: a bundle is written as .zip; {path} is not.");
            OutFile.RequireNotWatched(shop, path);
            return await RunAsync(shop, parsed.GetRequiredValue(setup), path, terminal, token);
        });
        return command;
    }

    private static async Task<int> RunAsync(
        ShopConfig shop, string beginning, string path, Terminal terminal, CancellationToken token)
    {
        var told = new List<string>();
        using var store = await StoreReader.OpenAsync(shop.Store, token);
        var head = await IdBeginning.FindAsync(store, DerivedKind.Setup, beginning, token);
        var quoted = new QuotedLines(store);
        var report = await ReportCommand.ReadAsync(shop, store, head, quoted, terminal.Time, token);
        var maker = new BundleMaker(new BundleOrder
        {
            Store = shop.Store,
            Record = new RecordOptions
            {
                Shop = shop.Name,
                OffBoxFolder = shop.Store.Checkpoints,
                KeyFile = shop.Store.KeyFile,
            },
            Setup = head.Id,
            Program = ProgramVersion.Text,
            Pages = new Dictionary<string, byte[]>(StringComparer.Ordinal)
            {
                ["report.html"] = Encoding.UTF8.GetBytes(HtmlReport.Of(report)),
                ["setup.json"] = Encoding.UTF8.GetBytes(JsonReport.Of(report)),
                ["CHECK.html"] = Encoding.UTF8.GetBytes(CheckPage.Html),
            },
            Tell = told.Add,
        }, terminal.Time);
        await OutFile.WriteAsync(path, target => maker.WriteAsync(target, token), token);
        foreach (var damage in told.Concat(quoted.Damage).Distinct(StringComparer.Ordinal))
            await terminal.Errors.WriteLineAsync(VisibleText.Of(damage));
        await terminal.Errors.WriteLineAsync(VisibleText.Of(
            $"Wrote {path}. CHECK.html in it tells how it is checked; give the record's key another way."));
        return quoted.Damage.Count == 0 ? ExitCode.Done : ExitCode.SomethingWrong;
    }
}
