namespace SetupAudit.Store;

/// <summary>All that holds of a machine from a boundary on: what differs from what is recorded is appended.</summary>
public sealed record DerivedBatch
{
    public required string Machine { get; init; }

    /// <summary>Recorded rows of this scope and later that are not given are withdrawn.</summary>
    public required DateTimeOffset ScopeFromUtc { get; init; }

    /// <summary>Recorded rows of this scope and later are left alone; null where all later ones are meant.</summary>
    public DateTimeOffset? ScopeBeforeUtc { get; init; }

    public required IReadOnlyList<DerivedRow> Rows { get; init; }

    /// <summary>The kinds compared; rows of other kinds are left alone. Null means all.</summary>
    public IReadOnlySet<DerivedKind>? Kinds { get; init; }

    /// <summary>Said beside each row that is withdrawn, in words.</summary>
    public required string WithdrawnBecause { get; init; }

    /// <summary>
    /// The horizon that the rows rest on, recorded with them where it is later than the last; null to leave it.
    /// </summary>
    public DateTimeOffset? HorizonUtc { get; init; }
}
