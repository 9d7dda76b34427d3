using System.Buffers.Binary;

namespace SetupAudit.Store.Segments;

/// <summary>
/// A Zstandard frame that holds its bytes as they are, in raw blocks (RFC 8878, 3.1.1): as fast as a copy, in the
/// memory of one block however large the file, and unpacked by the same reader as a compressed one.
/// </summary>
internal static class PlainFrame
{
    public const int BlockBytes = 128 * 1024;
    public const int HeaderBytes = 14;
    public const int BlockHeaderBytes = 3;

    private const uint Magic = 0xFD2FB528;

    // Eight bytes of content size, no checksum (the SHA-256 is the checksum), no single segment.
    private const byte Descriptor = 0b1100_0000;

    // A window of 2^(10+7) = 128 KiB, the size of a block.
    private const byte Window = 7 << 3;

    public static long StoredBytes(long sizeBytes) => HeaderBytes + sizeBytes + Blocks(sizeBytes) * BlockHeaderBytes;

    public static void WriteHeader(Span<byte> target, long sizeBytes)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(target, Magic);
        target[4] = Descriptor;
        target[5] = Window;
        BinaryPrimitives.WriteInt64LittleEndian(target[6..], sizeBytes);
    }

    public static void WriteBlockHeader(Span<byte> target, int blockBytes, bool last)
    {
        // Bit 0 says that it is the last one, bits 1 and 2 the type (0 is raw), the rest the size.
        var word = (blockBytes << 3) | (last ? 1 : 0);
        target[0] = (byte)(word & 0xFF);
        target[1] = (byte)((word >> 8) & 0xFF);
        target[2] = (byte)((word >> 16) & 0xFF);
    }

    private static long Blocks(long sizeBytes) => Math.Max(1, (sizeBytes + BlockBytes - 1) / BlockBytes);
}
