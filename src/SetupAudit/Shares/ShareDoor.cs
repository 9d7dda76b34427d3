namespace SetupAudit.Shares;

/// <summary>Which file system a source lies in: what is mounted here, or a server of its own.</summary>
internal static class ShareDoor
{
    /// <summary>A server's connection belongs to whoever asked, and is disposed by it.</summary>
    public static IShareFiles Of(ShareSource source, IShareFiles local) =>
        source.Watch.Sftp is { } sftp ? new SftpFiles(sftp) : local;
}
