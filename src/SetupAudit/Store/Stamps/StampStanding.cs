namespace SetupAudit.Store.Stamps;

/// <summary>How time-stamping stands.</summary>
/// <param name="Size">How many entries the newest stamp is over; 0 before the first.</param>
/// <param name="AtUtc">When that was, by the authority's clock.</param>
/// <param name="Fault">Why the newest checkpoint that was due has no stamp, in words; null where it has.</param>
public sealed record StampStanding(long Size, DateTimeOffset? AtUtc, string? Fault);
