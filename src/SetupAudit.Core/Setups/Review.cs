namespace SetupAudit.Setups;

/// <summary>
/// A person's verdict on a setup, as it was recorded. It is never changed: a later one supersedes it.
/// </summary>
public sealed record Review
{
    public required string Id { get; init; }

    public required string Machine { get; init; }

    /// <summary>The setup's id as it was when it was reviewed.</summary>
    public required string Setup { get; init; }

    public string? Pallet { get; init; }

    /// <summary>
    /// The setup that holds this moment is the one that was reviewed, whatever came to be known since.
    /// </summary>
    public required DateTimeOffset OpenedUtc { get; init; }

    /// <summary>When it was recorded; what it teaches, it teaches the setups that open after this.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>The same moment on the shop's wall clocks, with their distance from UTC.</summary>
    public required string AtLocal { get; init; }

    public required ReviewVerdict Verdict { get; init; }

    public required string Reason { get; init; }

    /// <summary>One of the contract's names, where the person gave one.</summary>
    public string? Cause { get; init; }

    /// <summary>The name as it was at that moment.</summary>
    public required string By { get; init; }

    /// <summary>Id of the person who proved the name with a password; null where nobody proved it.</summary>
    public string? Person { get; init; }

    /// <summary>The person's role at that moment; null where nobody proved the name.</summary>
    public string? Role { get; init; }

    /// <summary>What the evidence said when it was recorded.</summary>
    public required ReviewBasis Basis { get; init; }

    /// <summary>Digest of the setup's derived rows as they stood.</summary>
    public required string RowsSha256 { get; init; }

    /// <summary>The record it belongs to; null before there was one.</summary>
    public string? Origin { get; init; }

    /// <summary>SHA-256 of all that is signed.</summary>
    public string? SignedSha256 { get; init; }

    /// <summary>The person's signature over <see cref="SignedSha256"/>'s text, in Base64.</summary>
    public string? Signature { get; init; }

    /// <summary>The key that checks it, in Base64.</summary>
    public string? Key { get; init; }

    public bool IsSigned => Person is not null;
}
