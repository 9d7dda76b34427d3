using System.Diagnostics.CodeAnalysis;
using System.Runtime.CompilerServices;
using NSec.Cryptography;
using SetupAudit.Records;

namespace SetupAudit.Store.Records;

/// <summary>Signs notes, and checks them against keys that are known (C2SP signed-note).</summary>
internal static class NoteSigning
{
    // Importing a key checks that it is a point of the curve, which costs as much as checking a signature.
    private static readonly ConditionalWeakTable<VerifierKey, ImportedKey> Imported = [];

    public static SignedNote Sign(string text, RecordKey key, RecordKey? also = null) =>
        new(text, also is null ? [key.Sign(text)] : [key.Sign(text), also.Sign(text)]);

    /// <summary>
    /// Whether the note stands: a line by a known key whose signature fails makes it false, lines by keys that are not
    /// known count for nothing, and without one known signature that holds it is false as well. Does not throw.
    /// </summary>
    public static bool Holds(
        SignedNote note, IReadOnlyCollection<VerifierKey> known, [NotNullWhen(true)] out VerifierKey? signer,
        [NotNullWhen(false)] out string? reason)
    {
        signer = null;
        reason = null;
        var text = System.Text.Encoding.UTF8.GetBytes(note.Text);
        foreach (var line in note.Signatures)
        {
            var keys = known.Where(key => key.KeyId == line.KeyId && key.Name == line.Name).ToList();
            if (keys.Count == 0) continue;
            var holds = keys.Find(key => Holds(key, text, line.Signature));
            if (holds is null) reason = $"the signature by {line.Name}+{line.KeyId:x8} does not hold";
            signer ??= holds;
        }
        if (signer is null) reason ??= "no key that is known has signed it";
        if (reason is not null) signer = null;
        return signer is not null;
    }

    /// <summary>The public key in PEM, as openssl reads it.</summary>
    public static byte[] PublicPem(VerifierKey key) => PublicKey.Import(SignatureAlgorithm.Ed25519,
        key.PublicKey.ToArray(), KeyBlobFormat.RawPublicKey).Export(KeyBlobFormat.PkixPublicKeyText);

    /// <summary>Whether an Ed25519 signature (RFC 8032) over some bytes holds. Does not throw.</summary>
    public static bool Holds(VerifierKey key, ReadOnlySpan<byte> text, IReadOnlyList<byte> signature) =>
        signature.Count == SignatureAlgorithm.Ed25519.SignatureSize
        && Imported.GetValue(key, Import).Key is { } imported
        && SignatureAlgorithm.Ed25519.Verify(imported, text, [.. signature]);

    private static ImportedKey Import(VerifierKey key) => new(PublicKey.TryImport(
        SignatureAlgorithm.Ed25519, key.PublicKey.ToArray(), KeyBlobFormat.RawPublicKey, out var imported)
            ? imported : null);

    private sealed record ImportedKey(PublicKey? Key);
}
