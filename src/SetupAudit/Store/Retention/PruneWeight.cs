namespace SetupAudit.Store.Retention;

/// <summary>
/// What of one machine goes: arrivals, bytes (each once), and the latest moment that any of them speaks of.
/// </summary>
public sealed record PruneWeight(string Machine, long Arrivals, long SizeBytes, DateTimeOffset LastUtc);
