using System.Numerics;

namespace SetupAudit.Records;

/// <summary>
/// Shows that a tree grew from an earlier one and changed nothing in it (RFC 9162, section 2.1.4).
/// </summary>
public static class ConsistencyProof
{
    /// <summary>One more than an inclusion proof can need; a longer proof is refused unread.</summary>
    public const int HashesMost = 64;

    /// <summary>
    /// The proof from a tree of <paramref name="older"/> leaves, at least one, to one of <paramref name="newer"/>.
    /// <paramref name="subtree"/> gives the root of the leaves from an index on, so many of them.
    /// </summary>
    public static IReadOnlyList<TreeHash> Make(long older, long newer, Func<long, long, TreeHash> subtree)
    {
        if (older < 1 || older > newer)
            throw new ArgumentOutOfRangeException(nameof(older), $"no proof leads from {older} leaves to {newer}");
        var proof = new List<TreeHash>();
        var (from, count, known) = (0L, newer, true);
        // The older tree ends inside the range from .. from + count, or at its end.
        while (older - from != count)
        {
            var left = MerkleTree.SplitOf(count);
            if (older - from <= left)
            {
                proof.Add(subtree(from + left, count - left));
                count = left;
            }
            else
            {
                proof.Add(subtree(from, left));
                (from, count, known) = (from + left, count - left, false);
            }
        }
        if (!known) proof.Add(subtree(from, count));
        proof.Reverse();
        return proof;
    }

    /// <summary>
    /// Whether the proof shows that the newer tree begins with the older one. A tree of no leaves shows nothing and is
    /// refused; two trees of one size need equal roots and no hashes. Does not throw.
    /// </summary>
    public static bool Holds(
        long older, TreeHash olderRoot, long newer, TreeHash newerRoot, IReadOnlyList<TreeHash> proof)
    {
        if (older < 1 || older > newer || proof.Count > HashesMost) return false;
        if (older == newer) return proof.Count == 0 && olderRoot == newerRoot;
        if (proof.Count == 0) return false;
        // The names are those of the algorithm in RFC 9162, section 2.1.4.2. An older tree that is full is itself the
        // first node of the path and is not sent.
        IReadOnlyList<TreeHash> path = BitOperations.IsPow2(older) ? [olderRoot, .. proof] : proof;
        var (fn, sn) = (older - 1, newer - 1);
        for (; (fn & 1) == 1; fn >>= 1) sn >>= 1;
        var (fr, sr) = (path[0], path[0]);
        for (var index = 1; index < path.Count; index++)
        {
            var beside = path[index];
            if (sn == 0) return false;
            if ((fn & 1) == 1 || fn == sn)
            {
                (fr, sr) = (MerkleTree.Node(beside, fr), MerkleTree.Node(beside, sr));
                for (; (fn & 1) == 0 && fn != 0; fn >>= 1) sn >>= 1;
            }
            else sr = MerkleTree.Node(sr, beside);
            (fn, sn) = (fn >> 1, sn >> 1);
        }
        return sn == 0 && fr == olderRoot && sr == newerRoot;
    }
}
