namespace SetupAudit.Store.Retention;

/// <summary>One of those who decided that evidence is dropped, and the proof.</summary>
/// <param name="Person">The account.</param>
/// <param name="Name">The name as it was.</param>
/// <param name="Role">What the person was in the shop.</param>
/// <param name="Key">The public key that checks the signature, in Base64.</param>
/// <param name="SignedSha256">SHA-256 of the text that was signed.</param>
/// <param name="Signature">In Base64.</param>
public sealed record PruneSignature(
    string Person, string Name, string Role, string Key, string SignedSha256, string Signature);
