namespace SetupAudit.Shares;

/// <summary>Where a watched folder stands.</summary>
/// <param name="LastCleanUtc">Start of the last clean scan; null where there was none since the watch began.</param>
/// <param name="Fault">What is wrong now, for people; null where nothing is.</param>
public sealed record ShareStatus(ShareSource Source, DateTimeOffset? LastCleanUtc, string? Fault)
{
    /// <summary>For how long the share has not answered the call in hand; zero where it does.</summary>
    public TimeSpan Blocked { get; init; }

    /// <summary>How many files the last listing showed.</summary>
    public int Files { get; init; }

    /// <summary>How many files wait to settle, or will be tried again.</summary>
    public int Pending { get; init; }

    /// <summary>How many reads of files that changed meanwhile did not count, since the watch began.</summary>
    public long TornReads { get; init; }
}
