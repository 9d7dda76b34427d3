namespace SetupAudit.Shares;

/// <summary>What a name in a listing stands for.</summary>
public enum EntryKind
{
    File,
    Folder,

    /// <summary>A symbolic link, junction or mount point: never followed.</summary>
    Link,
}
