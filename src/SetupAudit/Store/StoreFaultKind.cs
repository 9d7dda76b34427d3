namespace SetupAudit.Store;

/// <summary>What to do about a fault of the store.</summary>
public enum StoreFaultKind
{
    /// <summary>Close the store, open it again and go on: a failed write, a full disk, a busy database.</summary>
    Temporary,

    /// <summary>Something kept is damaged or missing: the rest goes on, a person must look.</summary>
    Permanent,

    /// <summary>
    /// The store cannot be used as it is: another service writes it, it is newer, or it lies on a share.
    /// </summary>
    Final,
}
