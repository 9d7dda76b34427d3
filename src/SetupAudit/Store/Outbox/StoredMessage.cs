using SetupAudit.Shop;

namespace SetupAudit.Store.Outbox;

/// <summary>A message as it was put up to be sent. It is the same at each try.</summary>
public sealed record StoredMessage
{
    public required string Id { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>raised, cleared, reminder, digest or test.</summary>
    public required string Kind { get; init; }

    public required string Thread { get; init; }

    public required string Machine { get; init; }

    public string? Setup { get; init; }

    public required Severity Severity { get; init; }

    /// <summary>All of it as JSON.</summary>
    public required string Body { get; init; }
}
