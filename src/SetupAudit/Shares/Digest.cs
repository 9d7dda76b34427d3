using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;

namespace SetupAudit.Shares;

/// <summary>A SHA-256 as a value: thousands are held, and a string of each would cost five times as much.</summary>
internal readonly record struct Digest(ulong A, ulong B, ulong C, ulong D)
{
    public const int Bytes = 32;

    public static Digest Of(ReadOnlySpan<byte> content)
    {
        Span<byte> hash = stackalloc byte[Bytes];
        SHA256.HashData(content, hash);
        return Read(hash);
    }

    public static Digest End(IncrementalHash hash)
    {
        Span<byte> bytes = stackalloc byte[Bytes];
        hash.GetHashAndReset(bytes);
        return Read(bytes);
    }

    public static Digest Parse(string hex)
    {
        var bytes = Convert.FromHexString(hex);
        return bytes.Length == Bytes
            ? Read(bytes)
            : throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"{hex.Length} digits, not 64"));
    }

    public void Write(Span<byte> to)
    {
        BinaryPrimitives.WriteUInt64BigEndian(to, A);
        BinaryPrimitives.WriteUInt64BigEndian(to[8..], B);
        BinaryPrimitives.WriteUInt64BigEndian(to[16..], C);
        BinaryPrimitives.WriteUInt64BigEndian(to[24..], D);
    }

    /// <summary>Lower-case hexadecimal.</summary>
    public override string ToString()
    {
        Span<byte> bytes = stackalloc byte[Bytes];
        Write(bytes);
        return Convert.ToHexStringLower(bytes);
    }

    private static Digest Read(ReadOnlySpan<byte> hash) => new(
        BinaryPrimitives.ReadUInt64BigEndian(hash),
        BinaryPrimitives.ReadUInt64BigEndian(hash[8..]),
        BinaryPrimitives.ReadUInt64BigEndian(hash[16..]),
        BinaryPrimitives.ReadUInt64BigEndian(hash[24..]));
}
