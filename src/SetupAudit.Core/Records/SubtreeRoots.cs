using System.Numerics;

namespace SetupAudit.Records;

/// <summary>The roots of all full subtrees over some leaves, made once so that many proofs cost little.</summary>
public sealed class SubtreeRoots
{
    private readonly List<IReadOnlyList<TreeHash>> _levels = [];

    public SubtreeRoots(IReadOnlyList<TreeHash> leaves)
    {
        _levels.Add(leaves);
        while (_levels[^1].Count > 1)
        {
            var below = _levels[^1];
            var level = new List<TreeHash>(below.Count / 2);
            for (var index = 0; index + 1 < below.Count; index += 2)
                level.Add(MerkleTree.Node(below[index], below[index + 1]));
            _levels.Add(level);
        }
    }

    public long Size => _levels[0].Count;

    /// <summary>The root over so many leaves from an index on, as the proofs ask for it.</summary>
    public TreeHash Of(long from, long count)
    {
        if (count == 0) return MerkleTree.EmptyRoot;
        if (BitOperations.IsPow2(count) && from % count == 0)
            return _levels[BitOperations.Log2((ulong)count)][(int)(from / count)];
        var left = MerkleTree.SplitOf(count);
        return MerkleTree.Node(Of(from, left), Of(from + left, count - left));
    }
}
