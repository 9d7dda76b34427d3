using System.Buffers.Binary;
using System.Numerics;

namespace SetupAudit.Store.Segments;

/// <summary>CRC-32C (Castagnoli), which finds a torn write before the slower SHA-256 is asked.</summary>
internal static class Crc32C
{
    public const uint Start = uint.MaxValue;

    /// <summary>Goes on with more bytes; begin with <see cref="Start"/>, end with <see cref="Finish"/>.</summary>
    public static uint Append(uint crc, ReadOnlySpan<byte> bytes)
    {
        while (bytes.Length >= sizeof(ulong))
        {
            crc = BitOperations.Crc32C(crc, BinaryPrimitives.ReadUInt64LittleEndian(bytes));
            bytes = bytes[sizeof(ulong)..];
        }
        foreach (var one in bytes) crc = BitOperations.Crc32C(crc, one);
        return crc;
    }

    public static uint Finish(uint crc) => ~crc;

    public static uint Of(ReadOnlySpan<byte> bytes) => Finish(Append(Start, bytes));
}
