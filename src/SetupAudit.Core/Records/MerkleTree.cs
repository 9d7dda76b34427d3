using System.Buffers;
using System.Security.Cryptography;

namespace SetupAudit.Records;

/// <summary>
/// The hashing of RFC 9162, section 2.1.1: leaves and nodes begin with a different byte, so that neither can stand for
/// the other; a tree is split at the largest power of two below its size, nothing is padded or repeated.
/// </summary>
public static class MerkleTree
{
    private const byte LeafByte = 0;
    private const byte NodeByte = 1;
    private const int StackBytes = 1024;

    /// <summary>The root of a tree without leaves: SHA-256 of nothing.</summary>
    public static TreeHash EmptyRoot { get; } = TreeHash.Of([]);

    /// <summary>The hash of a leaf: SHA-256 of 0x00 and the record's bytes as they are stored.</summary>
    public static TreeHash Leaf(ReadOnlySpan<byte> body)
    {
        var length = body.Length + 1;
        var rented = length > StackBytes ? ArrayPool<byte>.Shared.Rent(length) : null;
        Span<byte> bytes = rented is null ? stackalloc byte[StackBytes] : rented;
        bytes[0] = LeafByte;
        body.CopyTo(bytes[1..]);
        var hash = TreeHash.Of(bytes[..length]);
        if (rented is not null) ArrayPool<byte>.Shared.Return(rented);
        return hash;
    }

    /// <summary>The hash of a node: SHA-256 of 0x01, its left and its right.</summary>
    public static TreeHash Node(TreeHash left, TreeHash right)
    {
        Span<byte> bytes = stackalloc byte[1 + 2 * TreeHash.Bytes];
        bytes[0] = NodeByte;
        left.CopyTo(bytes[1..]);
        right.CopyTo(bytes[(1 + TreeHash.Bytes)..]);
        Span<byte> hash = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(bytes, hash);
        return TreeHash.From(hash);
    }

    /// <summary>The root of the tree with these leaf hashes, in their order.</summary>
    public static TreeHash Root(IEnumerable<TreeHash> leaves)
    {
        var range = new CompactRange();
        foreach (var leaf in leaves) range.Append(leaf);
        return range.Root();
    }

    /// <summary>The largest power of two below a size of two or more: where RFC 9162 splits a tree.</summary>
    internal static long SplitOf(long size) => 1L << System.Numerics.BitOperations.Log2((ulong)(size - 1));
}
