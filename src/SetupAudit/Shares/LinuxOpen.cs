using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace SetupAudit.Shares;

/// <summary>
/// Opens a file as Linux can and .NET cannot: without following a link that was put in the file's place after the
/// listing, and without waiting for ever for the writer of a named pipe.
/// </summary>
internal static class LinuxOpen
{
    private const int NonBlocking = 0x800;
    private const int CloseOnExec = 0x80000;
    private const int NoFollowX64 = 0x20000;
    private const int NoFollowArm64 = 0x8000;
    private const int OnlyFolderX64 = 0x10000;
    private const int OnlyFolderArm64 = 0x4000;

    private const int NotPermitted = 1;
    private const int NotFound = 2;
    private const int Interrupted = 4;
    private const int NotAllowed = 13;
    private const int NotAFolder = 20;

    public static bool Available => OperatingSystem.IsLinux()
        && RuntimeInformation.ProcessArchitecture is Architecture.X64 or Architecture.Arm64;

    private static bool IsArm => RuntimeInformation.ProcessArchitecture == Architecture.Arm64;

    public static SafeFileHandle Read(string path) =>
        Open(path, NonBlocking | CloseOnExec | (IsArm ? NoFollowArm64 : NoFollowX64));

    /// <summary>A folder, to be listed; the watched folder itself may well be a link.</summary>
    public static SafeFileHandle Folder(string path) =>
        Open(path, CloseOnExec | (IsArm ? OnlyFolderArm64 : OnlyFolderX64));

    private static SafeFileHandle Open(string path, int flags)
    {
        var bytes = Encoding.UTF8.GetBytes(path + '\0');
        while (true)
        {
            var number = Open(bytes, flags, 0);
            if (number >= 0) return new SafeFileHandle(number, ownsHandle: true);
            var error = Marshal.GetLastPInvokeError();
            if (error != Interrupted) throw Fault(error, path);
        }
    }

    public static Exception Fault(int error, string path) => error switch
    {
        NotFound => new FileNotFoundException(Marshal.GetPInvokeErrorMessage(error), path),
        NotAFolder => new DirectoryNotFoundException(Marshal.GetPInvokeErrorMessage(error)),
        NotPermitted or NotAllowed => new UnauthorizedAccessException(Marshal.GetPInvokeErrorMessage(error)),
        _ => new IOException(Marshal.GetPInvokeErrorMessage(error), error),
    };

    [DllImport("libc", EntryPoint = "open", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Open(byte[] path, int flags, int mode);
}
