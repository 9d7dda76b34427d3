using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Numerics;

namespace SetupAudit.Records;

/// <summary>
/// A tree that only grows, kept as the roots of its full subtrees, largest first: one for each 1 in the binary digits
/// of its size, so at most 63 hashes however many leaves. Appending costs less than two hashes on average.
/// </summary>
public sealed class CompactRange
{
    private const int SizeBytes = 8;

    private readonly List<TreeHash> _frontier;

    public CompactRange() => _frontier = [];

    /// <summary>Goes on from a kept frontier; throws where it cannot be one of that size.</summary>
    public CompactRange(long size, IEnumerable<TreeHash> frontier)
    {
        _frontier = [.. frontier];
        Size = size;
        if (size < 0 || _frontier.Count != BitOperations.PopCount((ulong)size))
            throw new ArgumentException($"a tree of {size} leaves has no frontier of {_frontier.Count} hashes");
    }

    /// <summary>How many leaves were appended.</summary>
    public long Size { get; private set; }

    /// <summary>The roots of the full subtrees, largest and leftmost first.</summary>
    public IReadOnlyList<TreeHash> Frontier => _frontier;

    /// <summary>Appends the hash of the next leaf.</summary>
    public void Append(TreeHash leaf)
    {
        var hash = leaf;
        // Each trailing 1 of the size is a full subtree as large as the one that has just become full.
        for (var rest = Size; (rest & 1) == 1; rest >>= 1)
        {
            hash = MerkleTree.Node(_frontier[^1], hash);
            _frontier.RemoveAt(_frontier.Count - 1);
        }
        _frontier.Add(hash);
        Size++;
    }

    /// <summary>The root of the tree as it stands: RFC 9162, section 2.1.1.</summary>
    public TreeHash Root()
    {
        if (_frontier.Count == 0) return MerkleTree.EmptyRoot;
        var root = _frontier[^1];
        for (var index = _frontier.Count - 2; index >= 0; index--) root = MerkleTree.Node(_frontier[index], root);
        return root;
    }

    /// <summary>A copy that grows apart from this one.</summary>
    public CompactRange Copy() => new(Size, _frontier);

    /// <summary>The size as 8 bytes, big end first, and the hashes of the frontier.</summary>
    public byte[] ToBytes()
    {
        var bytes = new byte[SizeBytes + _frontier.Count * TreeHash.Bytes];
        BinaryPrimitives.WriteInt64BigEndian(bytes, Size);
        for (var index = 0; index < _frontier.Count; index++)
            _frontier[index].CopyTo(bytes.AsSpan(SizeBytes + index * TreeHash.Bytes));
        return bytes;
    }

    /// <summary>
    /// Reads what <see cref="ToBytes"/> wrote; false where the length does not fit the size. Does not throw.
    /// </summary>
    public static bool TryRead(ReadOnlySpan<byte> bytes, [NotNullWhen(true)] out CompactRange? range)
    {
        range = null;
        if (bytes.Length < SizeBytes) return false;
        var size = BinaryPrimitives.ReadInt64BigEndian(bytes);
        var count = BitOperations.PopCount((ulong)Math.Max(size, 0));
        if (size < 0 || bytes.Length != SizeBytes + count * TreeHash.Bytes) return false;
        var frontier = new List<TreeHash>(count);
        for (var at = SizeBytes; at < bytes.Length; at += TreeHash.Bytes)
            frontier.Add(TreeHash.From(bytes.Slice(at, TreeHash.Bytes)));
        range = new CompactRange(size, frontier);
        return true;
    }
}
