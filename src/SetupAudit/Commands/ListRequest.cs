using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>Which rows of which list are asked for.</summary>
internal sealed record ListRequest
{
    public required ListWhat What { get; init; }

    public required ShopConfig Shop { get; init; }

    public string? Machine { get; init; }

    public DateTimeOffset? SinceUtc { get; init; }

    /// <summary>Including this very moment.</summary>
    public DateTimeOffset? UntilUtc { get; init; }

    /// <summary>Normalised name.</summary>
    public string? Program { get; init; }

    public bool Withdrawn { get; init; }
}
