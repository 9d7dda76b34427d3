using SetupAudit.Shop;

namespace SetupAudit.Store.Outbox;

/// <summary>What was last told of a finding, in a message.</summary>
public sealed record StandingAlert
{
    public required string Machine { get; init; }

    public required string Finding { get; init; }

    public string? Setup { get; init; }

    public required string Rule { get; init; }

    public required Severity Severity { get; init; }

    /// <summary>The moment from which the finding held.</summary>
    public required DateTimeOffset HeldUtc { get; init; }

    /// <summary>Withdrawn where the message said that it cleared.</summary>
    public required AlertStep Step { get; init; }

    /// <summary>When the message was put up.</summary>
    public required DateTimeOffset ToldUtc { get; init; }
}
