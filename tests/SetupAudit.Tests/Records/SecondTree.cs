using Org.BouncyCastle.Crypto.Digests;

namespace SetupAudit.Records;

/// <summary>
/// The tree once more, by the recursive definitions of RFC 6962 (2.1, 2.1.1, 2.1.2) as they stand there, over another
/// library's SHA-256: shares no line with what it checks.
/// </summary>
internal static class SecondTree
{
    public static byte[] Leaf(byte[] body) => Sha256([0, .. body]);

    public static byte[] Node(byte[] left, byte[] right) => Sha256([1, .. left, .. right]);

    /// <summary>MTH over leaf hashes.</summary>
    public static byte[] Root(ReadOnlySpan<byte[]> leaves)
    {
        if (leaves.Length == 0) return Sha256([]);
        if (leaves.Length == 1) return leaves[0];
        var split = Split(leaves.Length);
        return Node(Root(leaves[..split]), Root(leaves[split..]));
    }

    /// <summary>PATH(m, D[n]).</summary>
    public static List<byte[]> Path(int index, ReadOnlySpan<byte[]> leaves)
    {
        if (leaves.Length == 1) return [];
        var split = Split(leaves.Length);
        return index < split
            ? [.. Path(index, leaves[..split]), Root(leaves[split..])]
            : [.. Path(index - split, leaves[split..]), Root(leaves[..split])];
    }

    /// <summary>PROOF(m, D[n]).</summary>
    public static List<byte[]> Consistency(int older, ReadOnlySpan<byte[]> leaves) => Subproof(older, leaves, true);

    private static List<byte[]> Subproof(int older, ReadOnlySpan<byte[]> leaves, bool known)
    {
        if (older == leaves.Length) return known ? [] : [Root(leaves)];
        var split = Split(leaves.Length);
        return older <= split
            ? [.. Subproof(older, leaves[..split], known), Root(leaves[split..])]
            : [.. Subproof(older - split, leaves[split..], false), Root(leaves[..split])];
    }

    private static int Split(int size)
    {
        var split = 1;
        while (2 * split < size) split *= 2;
        return split;
    }

    private static byte[] Sha256(byte[] bytes)
    {
        var digest = new Sha256Digest();
        digest.BlockUpdate(bytes, 0, bytes.Length);
        var hash = new byte[digest.GetDigestSize()];
        digest.DoFinal(hash, 0);
        return hash;
    }
}
