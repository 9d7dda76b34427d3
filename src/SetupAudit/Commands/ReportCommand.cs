using System.CommandLine;
using System.Text;
using SetupAudit.Evidence;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary><c>report</c>: one setup as a file, in the form that the file's ending names.</summary>
internal static class ReportCommand
{
    private const string Endings = ".html, .pdf, .json and .csv";

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
            HelpName = "FILE",
            Description = $"Where to write; its ending says in what form: {Endings}.",
            Required = true,
        };
        var command = new Command("report", "Writes the report of one setup.") { setup, config, to };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var path = Path.GetFullPath(parsed.GetRequiredValue(to));
            var form = Form(path);
            OutFile.RequireNotWatched(shop, path);
            using var store = await StoreReader.OpenAsync(shop.Store, token);
            var head = await IdBeginning.FindAsync(store, DerivedKind.Setup, parsed.GetRequiredValue(setup), token);
            var quoted = new QuotedLines(store);
            var report = await ReadAsync(shop, store, head, quoted, terminal.Time, token);
            await OutFile.WriteAsync(path, async target => await target.WriteAsync(form(report), token), token);
            foreach (var damage in quoted.Damage) await terminal.Errors.WriteLineAsync(VisibleText.Of(damage));
            await terminal.Errors.WriteLineAsync(VisibleText.Of($"Wrote {path}."));
            return quoted.Damage.Count == 0 ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    /// <summary>Everything a report of a setup needs, out of the record.</summary>
    public static async Task<SetupReport> ReadAsync(
        ShopConfig shop, StoreReader store, StoredDerived head, QuotedLines quoted, TimeProvider time,
        CancellationToken token)
    {
        var machine = shop.Machine(head.Machine) ?? throw new CommandException(
            $"{head.Id} is a setup of {head.Machine}, which the configuration does not name any more.");
        var setup = await SetupRows.ReadAsync(store, head, token);
        var sources = setup.Findings.SelectMany(finding => finding.Evidence).Distinct().ToList();
        var quotes = await quoted.ReadAsync(sources, token);
        var report = new SetupReport
        {
            Shop = shop.Name,
            Zone = TimeZoneInfo.FindSystemTimeZoneById(machine.TimeZone ?? shop.TimeZone),
            Machine = machine,
            Setup = setup,
            Coverage = await CoverageList.OfAsync(shop, machine, store, token),
            Quote = (SourceLine source) => quotes.GetValueOrDefault(source),
            MadeUtc = time.GetUtcNow(),
            AsOfUtc = await store.HorizonAsync(head.Machine, token),
            Version = ProgramVersion.Text,
        };
        var dropped = await store.Prunings.DroppedAsync(
            LimitsSection.Sources(report).Select(source => source.Sha256), token);
        return report with
        {
            Dropped = dropped.ToDictionary(pair => pair.Key, pair => pair.Value.Says, StringComparer.Ordinal),
        };
    }

    private static Func<SetupReport, byte[]> Form(string path) => Path.GetExtension(path).ToLowerInvariant() switch
    {
        ".html" or ".htm" => report => Encoding.UTF8.GetBytes(HtmlReport.Of(report)),
        ".pdf" => PdfReport.Of,
        ".json" => report => Encoding.UTF8.GetBytes(JsonReport.Of(report)),
        ".csv" => report => Encoding.UTF8.GetBytes(CsvReport.Of(report)),
        "" => throw new CommandException($"--out: {path} has no ending to say in what form; allowed are {Endings}."),
        var ending => throw new CommandException(
            $"--out: no report can be written as {ending}; allowed are {Endings}."),
    };
}
