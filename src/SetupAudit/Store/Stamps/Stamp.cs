namespace SetupAudit.Store.Stamps;

/// <summary>A time stamp that holds.</summary>
/// <param name="AtUtc">When, by the authority's clock.</param>
/// <param name="By">Whom its certificate names.</param>
/// <param name="IsTrusted">Its certificate leads to one that is trusted; else nobody vouches for it.</param>
internal sealed record Stamp(DateTimeOffset AtUtc, string By, bool IsTrusted);
