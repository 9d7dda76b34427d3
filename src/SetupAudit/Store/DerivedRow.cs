namespace SetupAudit.Store;

/// <summary>One derived thing: its id, when it was, and its JSON.</summary>
public sealed record DerivedRow
{
    public required DerivedKind Kind { get; init; }

    public required string Id { get; init; }

    /// <summary>
    /// The boundary from which a fold brings it forth: it is compared when that boundary is folded again.
    /// </summary>
    public required DateTimeOffset ScopeUtc { get; init; }

    /// <summary>The moment it is listed under.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    public string? Setup { get; init; }

    public required string Body { get; init; }
}
