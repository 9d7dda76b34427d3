namespace SetupAudit.Store;

/// <summary>Refuses a store folder on a file system that SQLite's write-ahead log cannot rely on.</summary>
internal static class LocalFolder
{
    private const string MountTable = "/proc/self/mountinfo";
    private const int LinkLimit = 40;

    // SQLite: all processes that use a write-ahead log must be on one host. 9p and virtiofs are a host's folder seen
    // from a virtual machine; both have been reported to damage such databases.
    private static readonly string[] Refused =
    [
        "nfs", "nfs4", "cifs", "smb3", "smbfs", "fuse", "fuseblk", "9p", "virtiofs", "afs", "ceph", "lustre", "gfs2",
        "ocfs2",
    ];

    /// <summary>Throws with a sentence when the folder does not lie on a local disk.</summary>
    public static void Require(string folder)
    {
        var kind = OperatingSystem.IsLinux() && File.Exists(MountTable)
            ? RefusedKind(Real(folder), File.ReadAllText(MountTable))
            : RefusedDrive(folder);
        if (kind is not null)
            throw new StoreException(StoreFaultKind.Final,
                $"The store folder {folder} lies on {kind}. A store must lie on a local disk: its database can be " +
                "damaged on a network share or a FUSE mount. Set Store.Folder to a local folder.");
    }

    /// <summary>
    /// The kind of file system a path lies on where it is refused, else null; by the text of a mount table.
    /// </summary>
    internal static string? RefusedKind(string path, string mounts)
    {
        var best = -1;
        var kind = "";
        foreach (var line in mounts.Split('\n'))
        {
            var fields = line.Split(' ');
            var dash = Array.IndexOf(fields, "-");
            if (dash < 5 || dash + 1 >= fields.Length) continue;
            var mount = Unescape(fields[4]);
            // A later line on the same folder covers an earlier one.
            if (!Covers(mount, path) || mount.Length < best) continue;
            best = mount.Length;
            kind = fields[dash + 1];
        }
        return Refused.Contains(kind, StringComparer.Ordinal) || kind.StartsWith("fuse.", StringComparison.Ordinal)
            ? $"a {kind} mount"
            : null;
    }

    private static string? RefusedDrive(string folder)
    {
        var root = Path.GetPathRoot(Path.GetFullPath(folder));
        if (string.IsNullOrEmpty(root)) return null;
        if (root.StartsWith(@"\\", StringComparison.Ordinal)) return "a network share";
        return new DriveInfo(root).DriveType == DriveType.Network ? "a network drive" : null;
    }

    private static bool Covers(string mount, string path) =>
        mount == "/" || path == mount || path.StartsWith(mount + "/", StringComparison.Ordinal);

    // The table writes space, tab, newline and backslash as three octal digits.
    private static string Unescape(string field) => field
        .Replace(@"\040", " ", StringComparison.Ordinal).Replace(@"\011", "\t", StringComparison.Ordinal)
        .Replace(@"\012", "\n", StringComparison.Ordinal).Replace(@"\134", @"\", StringComparison.Ordinal);

    // A link anywhere in the path may lead onto a share.
    private static string Real(string folder)
    {
        var path = Path.GetFullPath(folder);
        for (var links = 0; links < LinkLimit; links++)
        {
            var next = FollowFirstLink(path);
            if (next == path) break;
            path = next;
        }
        return path;
    }

    private static string FollowFirstLink(string path)
    {
        var parts = path.Split('/', StringSplitOptions.RemoveEmptyEntries);
        var seen = "";
        for (var index = 0; index < parts.Length; index++)
        {
            seen += "/" + parts[index];
            if (new DirectoryInfo(seen).LinkTarget is not { } target) continue;
            var beside = Path.Combine(Path.GetDirectoryName(seen) ?? "/", target);
            return Path.GetFullPath(Path.Combine([beside, .. parts[(index + 1)..]]));
        }
        return path;
    }
}
