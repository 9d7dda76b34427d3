namespace SetupAudit.Store;

/// <summary>
/// Where the service stood at a moment. It proves nothing and may be lost: it is no part of the record.
/// </summary>
public sealed record ServiceStanding
{
    /// <summary>A service says it anew every few seconds: what is older than this is of one that has ended.</summary>
    public static readonly TimeSpan FreshFor = TimeSpan.FromSeconds(30);

    public required DateTimeOffset AsOfUtc { get; init; }

    /// <summary>False where one run took in what lay there, and ended.</summary>
    public required bool IsWatching { get; init; }

    /// <summary>Why nothing is taken in now; null where the record is open.</summary>
    public string? Fault { get; init; }

    public IReadOnlyList<SourceStanding> Sources { get; init; } = [];

    /// <summary>Whether a service watches at that moment, as far as this tells.</summary>
    public bool IsWatchedAt(DateTimeOffset nowUtc) => IsWatching && (nowUtc - AsOfUtc).Duration() <= FreshFor;
}
