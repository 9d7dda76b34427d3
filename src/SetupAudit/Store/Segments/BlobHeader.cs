using System.Buffers.Binary;

namespace SetupAudit.Store.Segments;

/// <summary>
/// What stands before each blob in a segment. It is a skippable frame of the Zstandard format (RFC 8878, 3.1.2), so
/// that a segment is one valid Zstandard stream which public tools can unpack without this program.
/// </summary>
internal static class BlobHeader
{
    public const int Bytes = 68;

    // Any of the sixteen magic numbers of a skippable frame will do.
    private const uint SkippableMagic = 0x184D2A5A;
    private const uint ContentBytes = Bytes - 8;
    private const int HashBytes = 32;

    private static ReadOnlySpan<byte> Tag => "SAE1"u8;

    public static void Write(Span<byte> header, string sha256, long sizeBytes, long payloadBytes, uint payloadCrc)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(header, SkippableMagic);
        BinaryPrimitives.WriteUInt32LittleEndian(header[4..], ContentBytes);
        Tag.CopyTo(header[8..]);
        Convert.FromHexString(sha256, header.Slice(12, HashBytes), out _, out _);
        BinaryPrimitives.WriteInt64LittleEndian(header[44..], sizeBytes);
        BinaryPrimitives.WriteInt64LittleEndian(header[52..], payloadBytes);
        BinaryPrimitives.WriteUInt32LittleEndian(header[60..], payloadCrc);
        BinaryPrimitives.WriteUInt32LittleEndian(header[64..], Crc32C.Of(header[..64]));
    }

    /// <summary>Reads a header; false where the bytes are none, or damaged.</summary>
    public static bool TryRead(
        ReadOnlySpan<byte> header, out string sha256, out long sizeBytes, out long payloadBytes, out uint payloadCrc)
    {
        (sha256, sizeBytes, payloadBytes, payloadCrc) = ("", 0, 0, 0);
        if (header.Length < Bytes || BinaryPrimitives.ReadUInt32LittleEndian(header) != SkippableMagic
            || BinaryPrimitives.ReadUInt32LittleEndian(header[4..]) != ContentBytes
            || !header.Slice(8, Tag.Length).SequenceEqual(Tag)
            || BinaryPrimitives.ReadUInt32LittleEndian(header[64..]) != Crc32C.Of(header[..64]))
            return false;
        sha256 = Convert.ToHexStringLower(header.Slice(12, HashBytes));
        sizeBytes = BinaryPrimitives.ReadInt64LittleEndian(header[44..]);
        payloadBytes = BinaryPrimitives.ReadInt64LittleEndian(header[52..]);
        payloadCrc = BinaryPrimitives.ReadUInt32LittleEndian(header[60..]);
        return sizeBytes >= 0 && payloadBytes >= 0;
    }
}
