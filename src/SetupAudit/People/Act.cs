using SetupAudit.Setups;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>
/// What a person asks to be kept, handed to whoever holds the store. It carries no password: who signs, signs with the
/// key that the password brings back, and whoever takes it in checks the signature.
/// </summary>
public sealed record Act
{
    /// <summary>What is handed over twice is kept once.</summary>
    public required string Id { get; init; }

    public required ActKind Kind { get; init; }

    /// <summary>A review: its Id is this one's.</summary>
    public Review? Review { get; init; }

    /// <summary>The row that is to be written about a person.</summary>
    public StoredPerson? Person { get; init; }

    /// <summary>What is to be kept of the name and password given.</summary>
    public StoredSignIn? SignIn { get; init; }

    /// <summary>The signature over what is done to <see cref="Person"/>, in Base64; null where nobody signed.</summary>
    public string? Signature { get; init; }
}
