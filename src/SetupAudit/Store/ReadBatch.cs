namespace SetupAudit.Store;

/// <summary>What was read of a machine's arrivals, kept together: all of it, or none.</summary>
public sealed record ReadBatch
{
    /// <summary>Empty for the sheets.</summary>
    public required string Machine { get; init; }

    /// <summary>The arrivals that were read.</summary>
    public required IReadOnlyList<StoredArrival> Arrivals { get; init; }

    public IReadOnlyList<StoredSighting> Sightings { get; init; } = [];

    public IReadOnlyList<ShelfItem> Shelf { get; init; } = [];

    /// <summary>
    /// Rows of their own, such as their status; each appended unless the newest of its id says the same.
    /// </summary>
    public IReadOnlyList<DerivedRow> Rows { get; init; } = [];

    /// <summary>By machine, from where each must be folded again.</summary>
    public IReadOnlyDictionary<string, DirtyMark> Dirty { get; init; } = new Dictionary<string, DirtyMark>();
}
