using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>The configuration that a command runs with; one with faults ends the command and tells them all.</summary>
internal static class ShopFile
{
    public static ShopConfig Load(string path) =>
        LoadToRun(path).Config ?? throw new InvalidOperationException("a configuration with faults was loaded");

    /// <summary>With its bytes, for commands that take in or derive.</summary>
    public static LoadedConfiguration LoadToRun(string path)
    {
        var loaded = ConfigurationFile.Load(path);
        return loaded.Config is null ? throw new CommandException(string.Join('\n', loaded.FaultLines)) : loaded;
    }
}
