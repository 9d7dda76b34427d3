using System.CommandLine;
using SetupAudit.Reports;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary><c>check</c>: every fault of the configuration, with where and why.</summary>
internal static class CheckCommand
{
    public static Command Make(Terminal terminal)
    {
        var config = CommonOptions.Config();
        var command = new Command("check", "Checks the configuration and tells every fault.") { config };
        command.SetAction(parsed => Run(parsed.GetRequiredValue(config), terminal));
        return command;
    }

    private static int Run(string path, Terminal terminal)
    {
        var loaded = ConfigurationFile.Load(path);
        foreach (var line in loaded.FaultLines.Concat(loaded.NotYetLines))
            terminal.Errors.WriteLine(VisibleLines.Of(line));
        if (loaded.Config is not { } shop)
        {
            terminal.Errors.WriteLine($"{Figures.Count(loaded.Faults.Count, "fault", "faults")} in {path}.");
            return ExitCode.AtFault;
        }
        terminal.Out.WriteLine(Summary(shop, path));
        return loaded.NotYet.Any(entry => entry.Stops) ? ExitCode.AtFault : ExitCode.Done;
    }

    private static string Summary(ShopConfig shop, string path) => VisibleText.Of($"No fault in {path}: "
        + $"{Figures.Count(shop.Machines.Count, "machine", "machines")}, "
        + $"{Figures.Count(shop.Machines.Sum(machine => machine.Watch.Count), "watched folder", "watched folders")}, "
        + $"record in {shop.Store.Folder}.");
}
