using SetupAudit.Evidence;

namespace SetupAudit.Findings;

/// <summary>Two clocks that disagree, as long as they do.</summary>
/// <param name="Says">Which and by how much, in words without a capital or a full stop.</param>
/// <param name="SinceUtc">The moment of the first sighting that showed it.</param>
/// <param name="Last">The line that showed it last.</param>
public sealed record ClockSkew(string Says, DateTimeOffset SinceUtc, SourceLine Last);
