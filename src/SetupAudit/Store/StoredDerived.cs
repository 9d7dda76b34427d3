namespace SetupAudit.Store;

/// <summary>A derived row as it stands in the record.</summary>
public sealed record StoredDerived
{
    public required string Machine { get; init; }

    public required DerivedKind Kind { get; init; }

    public required string Id { get; init; }

    public required DateTimeOffset ScopeUtc { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public string? Setup { get; init; }

    /// <summary>Its JSON; of a withdrawn row the last that held.</summary>
    public required string Body { get; init; }

    /// <summary>Why it no longer holds; null where it does.</summary>
    public string? Withdrawn { get; init; }

    public required DateTimeOffset RecordedUtc { get; init; }
}
