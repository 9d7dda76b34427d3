using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Finds by which Watch entry of a machine a file would be read.</summary>
internal static class TryWatch
{
    public static WatchConfig Find(ShopConfig shop, MachineConfig machine, string path, SourceKind? read)
    {
        if (read is { } kind) return OfKind(machine, path, kind);
        if (shop.Sheets is { } sheets && IsWatched(Unwatched(SourceKind.Sheet, sheets.FullFolder, "*.json"), path))
            return Unwatched(SourceKind.Sheet, sheets.FullFolder, "*.json");
        // Where the file lies says most; a copy elsewhere is known by its name.
        var within = machine.Watch.Where(watch => IsWatched(watch, path)).ToList();
        if (within.Count > 0) return within[0];
        var name = Path.GetFileName(path);
        var named = machine.Watch.Where(watch => Glob.Matches(LastPart(watch.Files), name, ignoreCase: true)).ToList();
        if (named.Select(watch => (watch.Read, watch.Lines)).Distinct().Count() == 1) return named[0];
        var watched = string.Join("; ", machine.Watch.Select(watch =>
            $"{watch.Folder}/{watch.Files} as {TryCommand.NameOf(watch.Read)}"));
        throw new CommandException(named.Count == 0
            ? $"No watched folder of {machine.Name} takes {name}; say --read. It watches {watched}."
            : $"Several watched folders of {machine.Name} take {name}; say --read. It watches {watched}.");
    }

    private static WatchConfig OfKind(MachineConfig machine, string path, SourceKind kind)
    {
        var known = machine.Watch.Where(watch => watch.Read == kind).OrderByDescending(watch => IsWatched(watch, path))
            .FirstOrDefault();
        if (known is not null) return known;
        if (kind == SourceKind.PrintOut)
            throw new CommandException(
                $"--read: {machine.Name} has no watched folder of print-outs to say how lines read.");
        return Unwatched(kind, ".", "*");
    }

    private static WatchConfig Unwatched(SourceKind kind, string folder, string files) =>
        new() { Index = 0, Folder = folder, FullFolder = folder, Files = files, Read = kind };

    private static bool IsWatched(WatchConfig watch, string path)
    {
        var name = Path.GetRelativePath(watch.FullFolder, path).Replace('\\', '/');
        return !Path.IsPathRooted(name) && !name.StartsWith("../", StringComparison.Ordinal)
            && Glob.Matches(watch.Files, name, ignoreCase: true);
    }

    private static string LastPart(string glob) => glob[(glob.LastIndexOf('/') + 1)..];
}
