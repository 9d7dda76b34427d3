using System.CommandLine;
using SetupAudit.Evidence;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary><c>try</c>: how one file would be read, line by line. It keeps nothing.</summary>
internal static class TryCommand
{
    private static readonly (string Name, SourceKind Kind)[] Kinds =
    [
        ("data-setting", SourceKind.DataSetting), ("parameters", SourceKind.Parameters), ("table", SourceKind.Table),
        ("print-out", SourceKind.PrintOut), ("program", SourceKind.Program), ("sheet", SourceKind.Sheet),
        ("mtconnect", SourceKind.Mtconnect),
    ];

    public static Command Make(Terminal terminal)
    {
        var file = new Argument<string>("file") { HelpName = "FILE", Description = "The file to read." };
        var machine = CommonOptions.Machine(required: true);
        var config = CommonOptions.Config();
        var names = string.Join(", ", Kinds.Select(kind => kind.Name));
        var read = new Option<string>("--read")
        {
            HelpName = "HOW",
            Description = $"How to read it, where no watched folder says so: {names}.",
        };
        read.Validators.Add(parsed =>
        {
            if (parsed.Tokens is [{ Value: var given }] && Kinds.All(kind => kind.Name != given))
                parsed.AddError($"--read: '{given}' is no way to read a file; allowed are {names}.");
        });
        var json = CommonOptions.Json();
        var command = new Command("try", "Shows how one file would be read, line by line; keeps nothing.")
        {
            file, machine, config, read, json,
        };
        command.SetAction(async (parsed, token) =>
        {
            var shop = ShopFile.Load(parsed.GetRequiredValue(config));
            var of = Named.Machine(shop, parsed.GetRequiredValue(machine));
            if (of is null) return ExitCode.AtFault;
            var path = Path.GetFullPath(parsed.GetRequiredValue(file));
            if (Directory.Exists(path)) throw new CommandException($"{path} is a folder; give a file.");
            if (!File.Exists(path)) throw new CommandException($"{path} is not there.");
            var watch = TryWatch.Find(shop, of, path, parsed.GetValue(read) is { } how ? KindOf(how) : null);
            var tried = await new TryReading(shop, of, watch, path).ReadAsync(token);
            if (parsed.GetValue(json)) await terminal.Out.WriteLineAsync(ShapeBody.Of(tried));
            else Show(tried, terminal);
            return tried.Status == ArrivalStatus.Read ? ExitCode.Done : ExitCode.SomethingWrong;
        });
        return command;
    }

    public static string NameOf(SourceKind kind) => Kinds.FirstOrDefault(known => known.Kind == kind).Name
        ?? Word.Of(kind);

    private static SourceKind KindOf(string name) => Kinds.First(kind => kind.Name == name).Kind;

    private static void Show(Tried tried, Terminal terminal)
    {
        terminal.Out.WriteLine(VisibleText.Of(
            $"{tried.File} read as {NameOf(tried.Watch.Read)} of {tried.Machine} ({tried.WatchSays})"));
        terminal.Out.WriteLine(VisibleText.Of(
            $"It speaks of {Word.Of(tried.Moment.AtUtc)} (by its {Word.Of(tried.Moment.From)}"
            + (tried.Moment.Reason is { } reason ? $": {reason})" : ")")));
        var table = TextTable.For(terminal, [("line", true), ("column", true), ("what", false), ("says", false)]);
        foreach (var line in tried.Lines.OrderBy(line => line.Line).ThenBy(line => line.Column))
            table.Row([line.LineText, line.ColumnText, VisibleText.Of(line.What), VisibleText.Of(line.Says)]);
        foreach (var fault in tried.Faults)
            table.Row([Place(fault.Line), Place(fault.Column), "FAULT", VisibleText.Of(fault.Reason)]);
        table.End();
        terminal.Out.WriteLine($"{Figures.Count(tried.Lines.Count, "reading", "readings")}, "
            + $"{Figures.Count(tried.Faults.Count, "fault", "faults")}: {Word.Of(tried.Status)}");
    }

    private static string Place(int number) =>
        number > 0 ? number.ToString(System.Globalization.CultureInfo.InvariantCulture) : "";
}
