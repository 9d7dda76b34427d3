namespace SetupAudit.Shares;

/// <summary>
/// Tells on which mounted file system a folder lies. An unmounted share leaves an empty folder behind, which would else
/// look like a share whose files were all deleted.
/// </summary>
internal static class MountTable
{
    private const string Table = "/proc/self/mountinfo";
    private const int MostLinks = 40;

    // What else may be mounted asks another computer, or a program, and may answer from what it heard before.
    private static readonly HashSet<string> LocalTypes = new(StringComparer.Ordinal)
    {
        "ext2", "ext3", "ext4", "xfs", "btrfs", "zfs", "f2fs", "bcachefs", "tmpfs", "overlay", "vfat", "exfat", "ntfs",
        "ntfs3", "hfsplus", "apfs",
    };

    /// <summary>
    /// Whether sizes and times are those of this moment; a mount may show those of up to a second ago.
    /// </summary>
    /// <param name="mount">As <see cref="Of"/> gives it; null where the system does not tell.</param>
    public static bool IsTruthful(string? mount, string folder) => mount is null
        ? !folder.StartsWith(@"\\", StringComparison.Ordinal)
        : mount.Split(' ').Any(LocalTypes.Contains);

    /// <summary>
    /// Mount point, type and source; null where the system does not tell (then a missing share is an error).
    /// </summary>
    public static string? Of(string folder) =>
        File.Exists(Table) ? Find(File.ReadLines(Table), RealPath(folder)) : null;

    /// <summary>
    /// Where another computer's file system that a folder lies on is mounted; null where it lies on none. No link is
    /// followed, so that a share that does not answer is not waited for.
    /// </summary>
    public static string? PointOf(string folder) =>
        File.Exists(Table) && Find(File.ReadLines(Table), folder) is { } mount && !IsTruthful(mount, folder)
            ? mount.Split(' ')[0]
            : null;

    /// <summary>
    /// proc(5): id, parent, device, root, mount point, options, optional fields, "-", type, source, options.
    /// </summary>
    internal static string? Find(IEnumerable<string> table, string folder)
    {
        string? found = null;
        var longest = -1;
        foreach (var line in table)
        {
            var fields = line.Split(' ');
            var dash = Array.IndexOf(fields, "-");
            if (dash < 6 || fields.Length < dash + 3) continue;
            var point = Unescape(fields[4]);
            // The later of two at the same point lies above the earlier.
            if (point.Length < longest || !Covers(point, folder)) continue;
            longest = point.Length;
            found = $"{point} {fields[dash + 1]} {Unescape(fields[dash + 2])}";
        }

        return found;
    }

    private static bool Covers(string point, string folder) => point == "/"
        || (folder.StartsWith(point, StringComparison.Ordinal)
            && (folder.Length == point.Length || folder[point.Length] == '/'));

    private static string Unescape(string field) => field
        .Replace("\\040", " ", StringComparison.Ordinal)
        .Replace("\\011", "\t", StringComparison.Ordinal)
        .Replace("\\012", "\n", StringComparison.Ordinal)
        .Replace("\\134", "\\", StringComparison.Ordinal);

    /// <summary>
    /// The folder with every link on the way to it resolved; the watched folder itself may well be one.
    /// </summary>
    private static string RealPath(string folder)
    {
        var path = Path.GetFullPath(folder);
        for (var links = 0; links < MostLinks; links++)
        {
            if (ResolveFirst(path) is not { } resolved) return path;
            path = resolved;
        }

        return path;
    }

    private static string? ResolveFirst(string path)
    {
        for (var end = path.IndexOf('/', 1); ; end = path.IndexOf('/', end + 1))
        {
            var part = end < 0 ? path : path[..end];
            if (new DirectoryInfo(part).LinkTarget is { } target)
            {
                var from = Path.GetDirectoryName(part) ?? "/";
                return Path.GetFullPath(Path.Join(Path.GetFullPath(target, from), end < 0 ? "" : path[end..]));
            }

            if (end < 0) return null;
        }
    }
}
