using System.IO.Enumeration;

namespace SetupAudit.Shares;

/// <summary>The local file system, and whatever is mounted in it.</summary>
public sealed class LocalFiles : IShareFiles
{
    // Nothing is skipped: a hidden dump is a dump, and a folder without permission must be a fault, not a gap. A
    // larger buffer saves round trips on a share; more than 64 KiB fails on some.
    private static readonly EnumerationOptions Options = new()
    {
        AttributesToSkip = 0,
        IgnoreInaccessible = false,
        RecurseSubdirectories = false,
        ReturnSpecialDirectories = false,
        BufferSize = 64 * 1024,
    };

    public void List(string folder, EntryVisitor visit)
    {
        ArgumentNullException.ThrowIfNull(visit);
        if (LinuxListing.TryList(folder, visit)) return;
        var entries = new FileSystemEnumerable<bool>(folder, Transform, Options);
        foreach (var _ in entries)
        {
        }

        bool Transform(ref FileSystemEntry entry)
        {
            // The attributes first: they are of the name itself, where IsDirectory looks through a link.
            var kind = (entry.Attributes & FileAttributes.ReparsePoint) != 0 && IsLink(ref entry) ? EntryKind.Link
                : entry.IsDirectory ? EntryKind.Folder
                : EntryKind.File;
            visit(entry.FileName, kind, new FileStamp(entry.Length, entry.LastWriteTimeUtc.UtcDateTime));
            return true;
        }
    }

    public IShareFile Open(string path) => new LocalFile(path);

    public string? Mount(string folder) => MountTable.Of(folder);

    // A file that the server only keeps in another form (deduplicated, offline) is a reparse point too, but leads
    // nowhere.
    private static bool IsLink(ref FileSystemEntry entry) =>
        entry.ToFileSystemInfo() is { } info && info.LinkTarget is not null;
}
