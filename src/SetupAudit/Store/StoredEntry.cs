namespace SetupAudit.Store;

/// <summary>An entry of the record as it is kept.</summary>
public sealed class StoredEntry
{
    /// <summary>Place in the record, from 0.</summary>
    public required long Number { get; init; }

    /// <summary>The bytes that were hashed.</summary>
    public required byte[] Body { get; init; }

    /// <summary>Their hash as a leaf of the tree, as it was written with them.</summary>
    public required byte[] Leaf { get; init; }
}
