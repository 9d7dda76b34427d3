using System.Buffers.Binary;
using System.Diagnostics.CodeAnalysis;
using System.Security.Cryptography;

namespace SetupAudit.Records;

/// <summary>
/// A SHA-256: exactly 32 bytes, so that a tree or a proof can hold nothing shorter or longer. Its text is lower-case
/// hexadecimal.
/// </summary>
public readonly record struct TreeHash
{
    public const int Bytes = 32;

    private readonly ulong _first;
    private readonly ulong _second;
    private readonly ulong _third;
    private readonly ulong _fourth;

    private TreeHash(ReadOnlySpan<byte> bytes)
    {
        _first = BinaryPrimitives.ReadUInt64BigEndian(bytes);
        _second = BinaryPrimitives.ReadUInt64BigEndian(bytes[8..]);
        _third = BinaryPrimitives.ReadUInt64BigEndian(bytes[16..]);
        _fourth = BinaryPrimitives.ReadUInt64BigEndian(bytes[24..]);
    }

    /// <summary>Takes the bytes of a hash; throws where they are not 32.</summary>
    public static TreeHash From(ReadOnlySpan<byte> bytes) => TryRead(bytes, out var hash)
        ? hash
        : throw new ArgumentException($"a hash has {Bytes} bytes, these are {bytes.Length}", nameof(bytes));

    /// <summary>Takes the bytes of a hash; false where they are not 32. Does not throw.</summary>
    public static bool TryRead(ReadOnlySpan<byte> bytes, out TreeHash hash)
    {
        hash = bytes.Length == Bytes ? new TreeHash(bytes) : default;
        return bytes.Length == Bytes;
    }

    /// <summary>Reads 64 hexadecimal digits, only as <see cref="ToString"/> writes them. Does not throw.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out TreeHash hash)
    {
        hash = default;
        if (text is null || text.Length != 2 * Bytes || !text.All(char.IsAsciiHexDigitLower)) return false;
        hash = new TreeHash(Convert.FromHexString(text));
        return true;
    }

    /// <summary>The SHA-256 of some bytes.</summary>
    public static TreeHash Of(ReadOnlySpan<byte> bytes)
    {
        Span<byte> hash = stackalloc byte[Bytes];
        SHA256.HashData(bytes, hash);
        return new TreeHash(hash);
    }

    public void CopyTo(Span<byte> bytes)
    {
        BinaryPrimitives.WriteUInt64BigEndian(bytes, _first);
        BinaryPrimitives.WriteUInt64BigEndian(bytes[8..], _second);
        BinaryPrimitives.WriteUInt64BigEndian(bytes[16..], _third);
        BinaryPrimitives.WriteUInt64BigEndian(bytes[24..], _fourth);
    }

    public byte[] ToArray()
    {
        var bytes = new byte[Bytes];
        CopyTo(bytes);
        return bytes;
    }

    /// <summary>The hash as 44 characters of base64, as a checkpoint writes it.</summary>
    public string ToBase64() => Convert.ToBase64String(ToArray());

    public override string ToString() => Convert.ToHexStringLower(ToArray());
}
