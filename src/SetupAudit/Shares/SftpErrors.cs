using System.Net.Sockets;
using Renci.SshNet.Common;

namespace SetupAudit.Shares;

/// <summary>Turns what a connection throws into what a file system throws, so that one judgement serves both.</summary>
internal static class SftpErrors
{
    /// <summary>Whether this is a fault of the server, the way to it, or a file.</summary>
    public static bool Expected(Exception fault) => fault is SshException or SocketException or IOException
        or ObjectDisposedException or UnauthorizedAccessException or InvalidOperationException;

    /// <summary>Whether the connection may go on being used after it.</summary>
    public static bool IsOfFile(Exception fault) => fault is SftpPathNotFoundException
        or SftpPermissionDeniedException or IOException { InnerException: NotSupportedException };

    public static Exception Of(Exception fault) => fault switch
    {
        // What is missing or shut on this computer is what the configuration names: the key or the password.
        FileNotFoundException or DirectoryNotFoundException or UnauthorizedAccessException =>
            new ShareGoneException($"KeyFile or PasswordFile cannot be read: {fault.Message}", fault),
        SftpPathNotFoundException => new FileNotFoundException("it is not there on the server", fault),
        SftpPermissionDeniedException => new UnauthorizedAccessException("no permission on the server", fault),
        ShareGoneException or IOException { InnerException: NotSupportedException } => fault,
        SshAuthenticationException =>
            new ShareGoneException("the server does not accept the user or its secret", fault),
        SshOperationTimeoutException => new ShareGoneException("the server does not answer in time", fault),
        SocketException socket => new ShareGoneException($"the server cannot be reached: {socket.Message}", fault),
        SshConnectionException or ObjectDisposedException or InvalidOperationException =>
            new ShareGoneException("the connection to the server broke off", fault),
        SftpException => new IOException($"the server refused: {fault.Message}", fault),
        _ => new ShareGoneException($"the server cannot be used: {fault.Message}", fault),
    };
}
