using System.Security.Cryptography;

namespace SetupAudit.Shares;

/// <summary>
/// Hashes the beginning of a file that grows. Unlike a plain SHA-256 its state can be kept and resumed, and resuming
/// proves the bytes before the offset over at least a block.
/// </summary>
internal sealed class PrefixHash
{
    public const int Block = 16 * 1024;

    private readonly byte[] _window = new byte[2 * Block];
    private int _filled;
    private long _chained;
    private Digest _chain;

    public long OffsetBytes => _chained + _filled;

    /// <summary>
    /// Null when the window, the bytes from ChainedBytes to OffsetBytes, is not the one that was marked.
    /// </summary>
    public static PrefixHash? Resume(PrefixMark mark, ReadOnlySpan<byte> window)
    {
        if (window.Length != mark.OffsetBytes - mark.ChainedBytes || window.Length >= 2 * Block) return null;
        var hash = new PrefixHash { _chained = mark.ChainedBytes, _chain = mark.Chain, _filled = window.Length };
        window.CopyTo(hash._window);
        return hash.Mark() == mark ? hash : null;
    }

    public void Append(ReadOnlySpan<byte> bytes)
    {
        while (!bytes.IsEmpty)
        {
            var part = Math.Min(bytes.Length, _window.Length - _filled);
            bytes[..part].CopyTo(_window.AsSpan(_filled));
            _filled += part;
            bytes = bytes[part..];
            if (_filled == _window.Length) ChainFirstBlock();
        }
    }

    public PrefixMark Mark() => new(OffsetBytes, _chained, _chain, Hash(_chain, _window.AsSpan(0, _filled)));

    private void ChainFirstBlock()
    {
        _chain = Hash(_chain, _window.AsSpan(0, Block));
        _chained += Block;
        _filled = Block;
        _window.AsSpan(Block).CopyTo(_window);
    }

    private static Digest Hash(Digest before, ReadOnlySpan<byte> bytes)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> chain = stackalloc byte[Digest.Bytes];
        before.Write(chain);
        hash.AppendData(chain);
        hash.AppendData(bytes);
        return Digest.End(hash);
    }
}
