using System.CommandLine;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>
/// <c>check</c>: every fault of the configuration, with where and why; and which limit holds for an offset.
/// </summary>
internal static class CheckCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var limit = new Option<string[]>("--limit")
        {
            HelpName = "M/OFFSET",
            Description = "Also which limit holds for an offset, such as mill-3/G54.Z or mill-3/T5, and why.",
        };
        var command = new Command("check", "Checks the configuration and tells every fault.") { config, limit };
        command.SetAction(parsed => Run(
            parsed.GetRequiredValue(config), parsed.GetValue(limit) ?? [], terminal));
        return command;
    }

    private static int Run(string path, IReadOnlyList<string> limits, Terminal terminal)
    {
        var loaded = ConfigurationFile.Load(path);
        foreach (var line in loaded.FaultLines)
            terminal.Errors.WriteLine(VisibleLines.Of(line));
        if (loaded.Config is not { } shop)
        {
            terminal.Errors.WriteLine($"{Figures.Count(loaded.Faults.Count, "fault", "faults")} in {path}.");
            return ExitCode.AtFault;
        }
        var asked = limits.Select(text => LimitAsked.Parse(shop, text)).ToList();
        terminal.Out.WriteLine(Summary(shop, path));
        foreach (var line in StampLines.Of(shop.Store).Concat(ChannelLines.Of(shop, terminal.Time)))
            terminal.Out.WriteLine(line);
        foreach (var line in FolderLines.Missing(shop)
            .Concat(StampLines.Missing(shop.Store)).Concat(ChannelLines.Missing(shop.Alerts)))
            terminal.Errors.WriteLine(line);
        foreach (var line in asked.SelectMany(one => LimitLines.Of(shop, one))) terminal.Out.WriteLine(line);
        return ExitCode.Done;
    }

    private static string Summary(ShopConfig shop, string path) => VisibleText.Of($"No fault in {path}: "
        + $"{Figures.Count(shop.Machines.Count, "machine", "machines")}, "
        + $"{Figures.Count(shop.Machines.Sum(machine => machine.Watch.Count), "watched folder", "watched folders")}, "
        + $"record in {shop.Store.Folder}{(shop.Store.Postgres is null ? "" : ", its rows in PostgreSQL")}.");
}
