using ZstdSharp;

namespace SetupAudit.Store.Tables;

/// <summary>Scratch that may be large, packed for the database.</summary>
internal static class PackedState
{
    private const int Level = 3;
    private const int Longest = 256 * 1024 * 1024;

    public static byte[] Pack(ReadOnlySpan<byte> bytes)
    {
        using var compressor = new Compressor(Level);
        return compressor.Wrap(bytes).ToArray();
    }

    public static byte[] Unpack(ReadOnlySpan<byte> packed)
    {
        using var decompressor = new Decompressor();
        return decompressor.Unwrap(packed, Longest).ToArray();
    }
}
