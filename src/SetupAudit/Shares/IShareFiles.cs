namespace SetupAudit.Shares;

/// <summary>
/// What the scan needs of a file system. All calls block, and on a dead mount they may block for ever.
/// </summary>
public interface IShareFiles
{
    /// <summary>
    /// Lists one folder, itself only, without following links. Throws when the listing did not come to its end: what
    /// was visited until then is no whole folder.
    /// </summary>
    void List(string folder, EntryVisitor visit);

    /// <summary>Opens for reading without locking anybody out, and without following a link.</summary>
    IShareFile Open(string path);

    /// <summary>
    /// Which mounted file system the folder lies on, the same text again after a reboot; null where unknown.
    /// </summary>
    string? Mount(string folder);
}
