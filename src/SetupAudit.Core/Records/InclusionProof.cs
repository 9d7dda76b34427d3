namespace SetupAudit.Records;

/// <summary>
/// Shows that a leaf is in a tree: the hashes beside the way from the leaf to the root (RFC 9162, section 2.1.3).
/// </summary>
public static class InclusionProof
{
    /// <summary>More hashes than any tree can need: a longer proof is refused unread.</summary>
    public const int HashesMost = 64;

    /// <summary>
    /// The proof for the leaf at <paramref name="index"/> (from 0) of a tree of <paramref name="size"/> leaves.
    /// <paramref name="subtree"/> gives the root of the leaves from an index on, so many of them.
    /// </summary>
    public static IReadOnlyList<TreeHash> Make(long index, long size, Func<long, long, TreeHash> subtree)
    {
        if (index < 0 || index >= size)
            throw new ArgumentOutOfRangeException(nameof(index), $"a tree of {size} leaves has no leaf {index}");
        var proof = new List<TreeHash>();
        var (from, count) = (0L, size);
        while (count > 1)
        {
            var left = MerkleTree.SplitOf(count);
            if (index - from < left)
            {
                proof.Add(subtree(from + left, count - left));
                count = left;
            }
            else
            {
                proof.Add(subtree(from, left));
                (from, count) = (from + left, count - left);
            }
        }
        proof.Reverse();
        return proof;
    }

    /// <summary>
    /// Whether the proof leads from the leaf hash at that index to the root of a tree of that size. Does not throw.
    /// </summary>
    public static bool Holds(TreeHash leaf, long index, long size, IReadOnlyList<TreeHash> proof, TreeHash root)
    {
        if (index < 0 || index >= size || proof.Count > HashesMost) return false;
        // The names are those of the algorithm in RFC 9162, section 2.1.3.2.
        var (fn, sn, hash) = (index, size - 1, leaf);
        foreach (var beside in proof)
        {
            if (sn == 0) return false;
            if ((fn & 1) == 1 || fn == sn)
            {
                hash = MerkleTree.Node(beside, hash);
                for (; (fn & 1) == 0 && fn != 0; fn >>= 1) sn >>= 1;
            }
            else hash = MerkleTree.Node(hash, beside);
            (fn, sn) = (fn >> 1, sn >> 1);
        }
        return sn == 0 && hash == root;
    }
}
