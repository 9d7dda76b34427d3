namespace SetupAudit.Records;

/// <summary>
/// One signature line of a note: who signed by name, the first four bytes of the hash of the key, and what they made.
/// </summary>
public sealed record NoteSignature(string Name, uint KeyId, IReadOnlyList<byte> Signature);
