using System.Buffers;
using System.Security.Cryptography;

namespace SetupAudit.Shares;

/// <summary>A stretch of an open file that was read to its end: its hash, and its bytes where they are few.</summary>
internal sealed record ByteRange(Digest Sha256, byte[]? Held, Spool? Spool)
{
    private const int ChunkBytes = 1 << 20;

    /// <summary>Not the implicit conversion: it makes empty bytes of none.</summary>
    public ReadOnlyMemory<byte>? Memory => Held is null ? (ReadOnlyMemory<byte>?)null : Held;

    /// <summary>Null when the file ended before. The visitor sees every byte once, in order.</summary>
    /// <param name="isKept">The bytes are likely to be handed out, so what is too much for memory is spooled.</param>
    public static ByteRange? Read(
        IShareFile file, long offset, long length, ScanLimits limits, bool isKept, BytesVisitor? visit,
        CancellationToken cancel)
    {
        if (length <= limits.HeldBytes) return ReadHeld(file, offset, (int)length, visit);
        var spool = isKept ? Spool.TryCreate(limits.SpoolFolder) : null;
        var range = ReadPast(file, offset, length, ref spool, visit, cancel);
        if (range is null) spool?.Dispose();
        return range;
    }

    /// <summary>Fills the buffer as far as the file reaches; a short read is no end.</summary>
    public static int Fill(IShareFile file, Span<byte> buffer, long offset)
    {
        var filled = 0;
        while (filled < buffer.Length)
        {
            var read = file.Read(buffer[filled..], offset + filled);
            if (read <= 0) break;
            filled += read;
        }

        return filled;
    }

    private static ByteRange? ReadHeld(IShareFile file, long offset, int length, BytesVisitor? visit)
    {
        var held = new byte[length];
        if (Fill(file, held, offset) < length) return null;
        visit?.Invoke(held);
        return new ByteRange(Digest.Of(held), held, null);
    }

    private static ByteRange? ReadPast(
        IShareFile file, long offset, long length, ref Spool? spool, BytesVisitor? visit, CancellationToken cancel)
    {
        var buffer = ArrayPool<byte>.Shared.Rent(ChunkBytes);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        try
        {
            for (long done = 0; done < length;)
            {
                cancel.ThrowIfCancellationRequested();
                var chunk = buffer.AsSpan(0, (int)Math.Min(ChunkBytes, length - done));
                if (Fill(file, chunk, offset + done) < chunk.Length) return null;
                hash.AppendData(chunk);
                visit?.Invoke(chunk);
                if (spool is not null && !spool.TryWrite(chunk, done))
                {
                    spool.Dispose();
                    spool = null;
                }

                done += chunk.Length;
            }

            return new ByteRange(Digest.End(hash), null, spool);
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
    }
}
