namespace SetupAudit.Store;

/// <summary>Which derived rows to list. They come in the order of moment and id.</summary>
public sealed record DerivedQuery
{
    public required DerivedKind Kind { get; init; }

    /// <summary>Null for all machines.</summary>
    public string? Machine { get; init; }

    public DateTimeOffset? SinceUtc { get; init; }

    /// <summary>Including rows of this very moment.</summary>
    public DateTimeOffset? UntilUtc { get; init; }

    public string? Setup { get; init; }

    /// <summary>Also what no longer holds, with the reason beside.</summary>
    public bool Withdrawn { get; init; }
}
