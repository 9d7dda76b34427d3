using System.Globalization;
using FluentValidation;
using SetupAudit.Shop;

namespace SetupAudit.Commands.Validation;

/// <summary>
/// Folders: nothing is ever written to a watched one, and two machines' values must not be taken for one's.
/// </summary>
internal static class FolderRules
{
    private static readonly StringComparison AsFiles =
        OperatingSystem.IsWindows() ? StringComparison.OrdinalIgnoreCase : StringComparison.Ordinal;

    public static void Check(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        foreach (var machine in shop.Machines)
            foreach (var watch in machine.Watch)
                AgainstStore(watch.FullFolder, PathOf(machine, watch) + ".Folder", shop, context);
        if (shop.Sheets is { } sheets) AgainstStore(sheets.FullFolder, "Sheets.Folder", shop, context);
        if (shop.Alerts?.Files is { } files) AgainstWatched(files, shop, context);
        TwoMachines(shop, context);
    }

    private static void AgainstStore(string folder, string path, ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        if (shop.Store.Folder.Length == 0) return;
        if (IsWithin(folder, shop.Store.Folder))
            context.AddFailure(path, "lies in Store.Folder; keep what is watched and what is recorded apart");
        else if (IsWithin(shop.Store.Folder, folder))
            context.AddFailure(path, "holds Store.Folder; nothing may be written to a watched folder");
    }

    // Alerts are the one thing written to a folder that is not the record's.
    private static void AgainstWatched(FileDropConfig files, ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        const string Path = "Alerts.Files.Folder";
        if (shop.Store.Folder.Length > 0 && IsWithin(files.FullFolder, shop.Store.Folder))
            context.AddFailure(Path, "lies in Store.Folder; keep what is sent and what is recorded apart");
        var watched = shop.Machines.SelectMany(machine => machine.Watch).Select(watch => watch.FullFolder)
            .Concat(shop.Sheets is { } sheets ? [sheets.FullFolder] : []);
        if (watched.Any(folder => IsWithin(files.FullFolder, folder)))
            context.AddFailure(Path, "lies in a watched folder; nothing may be written there");
    }

    // Programs are often kept in one folder for all machines; values of registers and tools belong to one.
    private static void TwoMachines(ShopConfig shop, ValidationContext<ShopConfig> context)
    {
        var owners = new Dictionary<(string, string, string?), MachineConfig>();
        foreach (var machine in shop.Machines)
            foreach (var watch in machine.Watch)
            {
                if (watch.Read == SourceKind.Program || watch.IsToLoad) continue;
                // An agent may tell of several machines in one document.
                var files = (watch.FullFolder, watch.Files, watch.Stream?.Device);
                if (!owners.TryAdd(files, machine))
                    context.AddFailure(PathOf(machine, watch), owners[files] == machine
                        ? $"watches {watch.Files} in {watch.Folder} a second time; take one out"
                        : $"watches {watch.Files} in {watch.Folder}, which {owners[files].Name} watches already; "
                            + "a dump or print-out belongs to one machine");
            }
    }

    private static string PathOf(MachineConfig machine, WatchConfig watch) =>
        string.Create(CultureInfo.InvariantCulture, $"Machines.{machine.Name}.Watch[{watch.Index}]");

    private static bool IsWithin(string folder, string outer) =>
        folder.Equals(outer, AsFiles)
        || folder.StartsWith(Path.TrimEndingDirectorySeparator(outer) + Path.DirectorySeparatorChar, AsFiles)
        || Path.GetPathRoot(outer) == outer && folder.StartsWith(outer, AsFiles);
}
