using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Store;

/// <summary>The calls of the system that the class library does not offer.</summary>
[UnsupportedOSPlatform("windows")]
internal static class Posix
{
    private const int LockShared = 1;
    private const int LockExclusive = 2;
    private const int LockNonBlocking = 4;
    private const int LockNone = 8;
    private const int ReadOnly = 0;
    private const int Here = -100;
    private const int FollowNoLink = 0x100;
    private const uint Uid = 0x8;

    // struct statx is the same on every processor, which struct stat is not.
    private const int StatBytes = 256;
    private const int UidAt = 20;

    /// <summary>
    /// Takes the lock of the open file (flock), which dies with the process. FileShare.None cannot be used: the program
    /// switches the class library's file locking off so that it never stalls a control that writes to a share.
    /// </summary>
    public static bool TryLock(SafeFileHandle file) =>
        flock((int)file.DangerousGetHandle(), LockExclusive | LockNonBlocking) == 0;

    /// <summary>Whether somebody holds the lock of the open file.</summary>
    public static bool IsLocked(SafeFileHandle file)
    {
        if (flock((int)file.DangerousGetHandle(), LockShared | LockNonBlocking) != 0) return true;
        // At once, so that a service which starts at this moment is not kept out by the question.
        Unlock(file);
        return false;
    }

    /// <summary>
    /// Lets go of the lock. Closing the file is not enough: a child that was just forked holds it open as well until it
    /// runs its own program.
    /// </summary>
    public static void Unlock(SafeFileHandle file) => _ = flock((int)file.DangerousGetHandle(), LockNone);

    /// <summary>
    /// Makes the names in a folder durable: a new file is only there after a power cut once this was done.
    /// </summary>
    public static bool FlushFolder(string folder)
    {
        var descriptor = open(System.Text.Encoding.UTF8.GetBytes(folder + '\0'), ReadOnly);
        if (descriptor < 0) return false;
        var flushed = fsync(descriptor) == 0;
        return close(descriptor) == 0 && flushed;
    }

    /// <summary>Whether this process may write what belongs to others.</summary>
    public static bool IsRoot => geteuid() == 0;

    /// <summary>The number of the account that a file belongs to; null where that cannot be told.</summary>
    public static uint? OwnerOf(string path)
    {
        if (!OperatingSystem.IsLinux()) return null;
        var answer = new byte[StatBytes];
        var name = System.Text.Encoding.UTF8.GetBytes(path + '\0');
        return statx(Here, name, FollowNoLink, Uid, answer) == 0 ? BitConverter.ToUInt32(answer, UidAt) : null;
    }

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern uint geteuid();

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int statx(int folder, byte[] path, int flags, uint mask, byte[] answer);

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int flock(int descriptor, int operation);

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int open(byte[] path, int flags);

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int fsync(int descriptor);

    [DllImport("libc", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int close(int descriptor);
}
