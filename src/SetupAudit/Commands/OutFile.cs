using System.Text;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Writes a file that a person asked for; never into a watched folder, and whole or not at all.</summary>
internal static class OutFile
{
    /// <summary>Ends the command where the path lies in a folder that is watched.</summary>
    public static void RequireNotWatched(ShopConfig shop, string path)
    {
        var watched = shop.Machines.SelectMany(machine => machine.Watch).Select(watch => watch.FullFolder)
            .Concat(shop.Sheets is { } sheets ? [sheets.FullFolder] : []);
        foreach (var folder in watched)
            if (IsBelow(path, folder))
                throw new CommandException(
                    $"--out: {path} lies in the watched folder {folder}; nothing is ever written there.");
    }

    /// <summary>Ends the command where the path lies in the store, or the store in it.</summary>
    public static void RequireOutside(string store, string path)
    {
        if (IsBelow(path, store) || IsBelow(store, path))
            throw new CommandException($"--out: {path} and the store's folder {store} must lie apart.");
    }

    public static Task WriteAsync(string path, string text, CancellationToken token) => WriteAsync(path,
        async target => await target.WriteAsync(new UTF8Encoding(false).GetBytes(text), token), token);

    /// <summary>Writes what a caller puts into the stream it is given.</summary>
    public static async Task WriteAsync(string path, Func<Stream, Task> write, CancellationToken token)
    {
        token.ThrowIfCancellationRequested();
        var folder = Path.GetDirectoryName(path) ?? Directory.GetCurrentDirectory();
        if (!Directory.Exists(folder)) throw new CommandException($"--out: the folder {folder} is not there.");
        if (Directory.Exists(path)) throw new CommandException($"--out: {path} is a folder.");
        // A reader of the old file never sees half of the new one.
        var draft = Path.Combine(folder, $".{Path.GetFileName(path)}.{Environment.ProcessId}.part");
        try
        {
            await using (var target = File.Create(draft)) await write(target);
            File.Move(draft, path, overwrite: true);
        }
        finally
        {
            if (File.Exists(draft)) File.Delete(draft);
        }
    }

    private static bool IsBelow(string path, string folder)
    {
        var comparison = OperatingSystem.IsWindows() ? StringComparison.OrdinalIgnoreCase : StringComparison.Ordinal;
        var relative = Path.GetRelativePath(Real(folder), Real(path));
        return !Path.IsPathRooted(relative) && !relative.Equals("..", comparison)
            && !relative.StartsWith(".." + Path.DirectorySeparatorChar, comparison);
    }

    // A link to a watched folder is the watched folder.
    private static string Real(string path)
    {
        var full = Path.GetFullPath(path);
        for (var folder = full; folder is not null; folder = Path.GetDirectoryName(folder))
            if (Directory.Exists(folder)
                && new DirectoryInfo(folder).ResolveLinkTarget(returnFinalTarget: true) is { } target)
                return Path.Combine(target.FullName, Path.GetRelativePath(folder, full));
        return full;
    }
}
