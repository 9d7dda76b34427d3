namespace SetupAudit.Shares;

/// <summary>Where a watched folder stands.</summary>
/// <param name="LastCleanUtc">Start of the last clean scan; null where there was none since the watch began.</param>
/// <param name="Fault">What is wrong now, for people; null where nothing is.</param>
public sealed record ShareStatus(ShareSource Source, DateTimeOffset? LastCleanUtc, string? Fault);
