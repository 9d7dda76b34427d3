using System.Runtime.InteropServices;
using SetupAudit.Support;

namespace SetupAudit.Store;

public sealed class StoreLockTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    [Fact]
    public void The_lock_is_let_go_though_a_child_that_was_just_forked_holds_the_file_open()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows does not fork");
        using var share = new TempShare();
        // What fork(2) does to an open file: a second descriptor of the same description.
        var copies = new List<int>();
        using (StoreLock.Take(share.Folder, Now))
        {
            foreach (var link in Directory.EnumerateFileSystemEntries("/proc/self/fd"))
                if (new FileInfo(link).LinkTarget == share[StoreLock.FileName])
                    copies.Add(dup(int.Parse(Path.GetFileName(link), System.Globalization.CultureInfo.InvariantCulture)));
            Assert.True(StoreLock.IsHeld(share.Folder));
        }
        Assert.Single(copies);
        Assert.False(StoreLock.IsHeld(share.Folder));
        StoreLock.Take(share.Folder, Now).Dispose();
        Assert.All(copies, copy => Assert.Equal(0, close(copy)));
    }

    [DllImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int dup(int descriptor);

    [DllImport("libc")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int close(int descriptor);
}
