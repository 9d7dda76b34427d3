using System.Runtime.InteropServices;

namespace SetupAudit.Shares;

/// <summary>
/// Sorts what a file system throws. The numbers are those of Linux and, above 0x80070000, of Windows.
/// </summary>
internal static class ShareErrors
{
    private const int Windows = unchecked((int)0x80070000);

    // ENXIO, ENODEV, ENFILE, EMFILE, ENETDOWN, ENETUNREACH, ETIMEDOUT, ENOTCONN, EHOSTDOWN, EHOSTUNREACH, ESTALE.
    // Too many open files is ours, but it too says nothing about the file.
    private static readonly HashSet<int> GoneOnLinux = [6, 19, 23, 24, 100, 101, 107, 110, 112, 113, 116];

    // ERROR_BAD_NETPATH, UNEXP_NET_ERR, NETNAME_DELETED, BAD_NET_NAME, SEM_TIMEOUT, NETWORK_UNREACHABLE, ...
    private static readonly HashSet<int> GoneOnWindows = [51, 53, 54, 55, 59, 64, 67, 121, 1225, 1231, 1232, 1236];

    /// <summary>Whether this is a fault of the share or of a file; anything else is a mistake and passes.</summary>
    public static bool Expected(Exception fault) =>
        fault is IOException or UnauthorizedAccessException or System.Security.SecurityException;

    public static FileTrouble Of(Exception fault) => fault switch
    {
        ShareGoneException => FileTrouble.ShareGone,
        FileNotFoundException or DirectoryNotFoundException => FileTrouble.Vanished,
        UnauthorizedAccessException or System.Security.SecurityException => FileTrouble.NoPermission,
        IOException { InnerException: NotSupportedException } => FileTrouble.NoFile,
        _ when IsGone(fault.HResult) => FileTrouble.ShareGone,
        _ => FileTrouble.Unreadable,
    };

    /// <summary>The system's own words, without the path that .NET puts behind them.</summary>
    public static string Words(Exception fault) => fault switch
    {
        ShareGoneException => fault.Message,
        FileNotFoundException or DirectoryNotFoundException => "it is not there",
        UnauthorizedAccessException or System.Security.SecurityException => "no permission",
        _ when fault.HResult is > 0 and < 4096 && !OperatingSystem.IsWindows() =>
            Marshal.GetPInvokeErrorMessage(fault.HResult),
        _ => fault.Message,
    };

    private static bool IsGone(int number) => (number & 0xFFFF0000) == (Windows & 0xFFFF0000)
        ? GoneOnWindows.Contains(number & 0xFFFF)
        : GoneOnLinux.Contains(number);
}
