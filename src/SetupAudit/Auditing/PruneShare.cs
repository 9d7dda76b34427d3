namespace SetupAudit.Auditing;

/// <summary>What would be dropped of one machine.</summary>
/// <param name="FromUtc">
/// Its line: the opening of the setup that was open at the moment asked for, or that moment; null where nothing of it
/// is older.
/// </param>
/// <param name="Arrivals">How many arrivals lose their bytes.</param>
/// <param name="SizeBytes">How many bytes go; what several machines have counts with each.</param>
/// <param name="LastUtc">The latest moment that any of them speaks of; null for none.</param>
public sealed record PruneShare(
    string Machine, DateTimeOffset? FromUtc, long Arrivals, long SizeBytes, DateTimeOffset? LastUtc);
