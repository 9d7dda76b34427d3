using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace SetupAudit.Records;

/// <summary>
/// A public key that notes are checked with, as a person can write it down: name, the first four bytes of its hash in
/// hexadecimal, and its kind and bytes in base64, joined by plus signs (C2SP signed-note). Only Ed25519 is known.
/// </summary>
public sealed record VerifierKey
{
    public const byte Ed25519 = 1;
    public const int PublicKeyBytes = 32;

    private const int IdDigits = 8;

    public VerifierKey(string name, ReadOnlySpan<byte> publicKey)
    {
        if (!KeyName.IsOne(name)) throw new ArgumentException($"\"{name}\" cannot be the name of a key", nameof(name));
        Name = name;
        PublicKey = TreeHash.From(publicKey);
        KeyId = IdOf(name, publicKey);
    }

    /// <summary>Whose key it is: the origin of the record it signs.</summary>
    public string Name { get; }

    /// <summary>The 32 bytes of the key.</summary>
    public TreeHash PublicKey { get; }

    public uint KeyId { get; }

    /// <summary>Reads a key, only as <see cref="ToString"/> writes it. Does not throw.</summary>
    public static bool TryRead(
        string text, [NotNullWhen(true)] out VerifierKey? key, [NotNullWhen(false)] out string? reason)
    {
        key = null;
        reason = null;
        var parts = text.Split('+', 3);
        if (parts.Length != 3) reason = "a key is written NAME+ID+BASE64";
        else if (!KeyName.IsOne(parts[0])) reason = "its name is not a name";
        else if (parts[1].Length != IdDigits || !parts[1].All(char.IsAsciiHexDigitLower))
            reason = $"its id is not {IdDigits} hexadecimal digits";
        else if (!NoteText.TryBase64(parts[2], out var bytes) || bytes.Length == 0) reason = "its key is not base64";
        else if (bytes[0] != Ed25519) reason = $"its kind {bytes[0]} is not known: this program knows Ed25519, kind 1";
        else if (bytes.Length != 1 + PublicKeyBytes) reason = $"an Ed25519 key has {PublicKeyBytes} bytes";
        else if (new VerifierKey(parts[0], bytes.AsSpan(1)) is var read && read.ToString() != text)
            reason = "its id is not that of its name and key: a letter may be mistyped";
        else key = read;
        return key is not null;
    }

    public override string ToString()
    {
        var key = Convert.ToBase64String([Ed25519, .. PublicKey.ToArray()]);
        return string.Create(CultureInfo.InvariantCulture, $"{Name}+{KeyId:x8}+{key}");
    }

    private static uint IdOf(string name, ReadOnlySpan<byte> publicKey) =>
        NoteText.KeyIdOf(TreeHash.Of([.. NoteText.Encode(name), (byte)'\n', Ed25519, .. publicKey]).ToArray());
}
