using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>The configuration that a command runs with; one with faults ends the command and tells them all.</summary>
internal static class ShopFile
{
    public static ShopConfig Load(string path)
    {
        var loaded = ConfigurationFile.Load(path);
        if (loaded.Config is { } shop) return shop;
        throw new CommandException(string.Join('\n', loaded.FaultLines));
    }

    /// <summary>
    /// For commands that take in or derive: also ends where the configuration asks for something this version cannot do
    /// without, and says what it leaves out.
    /// </summary>
    public static LoadedConfiguration LoadToRun(string path, Terminal terminal)
    {
        var loaded = ConfigurationFile.Load(path);
        if (loaded.Config is null) throw new CommandException(string.Join('\n', loaded.FaultLines));
        if (loaded.NotYet.Any(entry => entry.Stops)) throw new CommandException(string.Join('\n', loaded.NotYetLines));
        foreach (var line in loaded.NotYetLines) terminal.Errors.WriteLine(VisibleLines.Of(line));
        return loaded;
    }
}
