using SetupAudit.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Grows the tree again beside the record. Where the hash kept with an entry is not that of its body, both are followed
/// until a signed root tells which of them was altered.
/// </summary>
internal sealed class TreeWalk
{
    private CompactRange _kept = new();
    private CompactRange? _hashed;

    public long Size => _kept.Size;

    /// <summary>Appends an entry: the hash kept with it, and the hash of its body.</summary>
    public void Append(TreeHash kept, TreeHash hashed)
    {
        if (kept != hashed) _hashed ??= _kept.Copy();
        _kept.Append(kept);
        _hashed?.Append(hashed);
    }

    /// <summary>
    /// Compares with a signed root: whether one of both ways leads to it, and whether that is the way of the bodies.
    /// </summary>
    public (bool Fits, bool ByBodies) Compare(TreeHash root)
    {
        var byBodies = (_hashed ?? _kept).Root() == root;
        var fits = byBodies || (_hashed is not null && _kept.Root() == root);
        if (fits && _hashed is not null) (_kept, _hashed) = (byBodies ? _hashed : _kept, null);
        return (fits, byBodies);
    }
}
