using SetupAudit.Evidence;

namespace SetupAudit.Store;

/// <summary>An arrival as it was recorded; <paramref name="Seq"/> counts in the order of taking in.</summary>
public sealed record StoredArrival(long Seq, Arrival Arrival);
