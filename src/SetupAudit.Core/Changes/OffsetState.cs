using SetupAudit.Evidence;

namespace SetupAudit.Changes;

/// <summary>What is known of one offset at a moment.</summary>
/// <param name="Value">Null where the control is known to hold none.</param>
/// <param name="SinceUtc">First moment this value was shown.</param>
/// <param name="ShownUtc">Last moment this value was certainly shown.</param>
/// <param name="Change">Id of the change that brought it; null for a first sight.</param>
/// <param name="By">By what the value came.</param>
/// <param name="Source">The line that showed it first.</param>
/// <param name="Previous">The value before; null where none was known.</param>
public sealed record OffsetState(
    decimal? Value,
    DateTimeOffset SinceUtc,
    DateTimeOffset ShownUtc,
    string? Change,
    ChangedBy By,
    SourceLine Source,
    decimal? Previous = null);
