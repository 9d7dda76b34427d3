namespace SetupAudit.Store;

/// <summary>
/// A place in a machine's time line and where to read what it shows. Scratch: made again from the arrivals.
/// </summary>
public sealed record StoredSighting
{
    public required string Machine { get; init; }

    public required SightingPosition Position { get; init; }

    public required DateTimeOffset EarliestUtc { get; init; }

    public required string Arrival { get; init; }

    public DateTimeOffset? ShareUtc { get; init; }

    /// <summary>JSON of a print-out line; null for a dump, whose bytes are read again.</summary>
    public string? Body { get; init; }
}
