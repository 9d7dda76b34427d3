namespace SetupAudit.Shares;

/// <summary>What went wrong with one file, as far as the next step depends on it.</summary>
internal enum FileTrouble
{
    /// <summary>It was listed and is gone: no error, the next listing tells.</summary>
    Vanished,
    NoPermission,

    /// <summary>The mount or the server is gone, not the file: nothing is believed of any file.</summary>
    ShareGone,
    /// <summary>A pipe or a device under a file's name.</summary>
    NoFile,
    Unreadable,
}
