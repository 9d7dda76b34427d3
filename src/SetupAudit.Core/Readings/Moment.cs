using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>The moment a file speaks of, and what says so.</summary>
/// <param name="From">Where it was found; the file's time where nothing better was.</param>
/// <param name="Reason">Why the file's time had to do although the configuration asks for another; else null.</param>
public sealed record Moment(DateTimeOffset AtUtc, TimeFrom From, string? Reason);
