namespace SetupAudit.Store;

/// <summary>A source that is left out when its machine is derived, because its share does not answer.</summary>
/// <param name="Source">Watch index.</param>
/// <param name="ReadUntilUtc">Up to when it is known to have been read.</param>
public sealed record SourceGap(int Source, DateTimeOffset ReadUntilUtc);
