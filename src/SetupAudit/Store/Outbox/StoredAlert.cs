using SetupAudit.Shop;

namespace SetupAudit.Store.Outbox;

/// <summary>One change of a finding that alerts looked at.</summary>
public sealed record StoredAlert
{
    /// <summary>Its place in the record; 0 for one that is not kept yet.</summary>
    public long Seq { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public required string Machine { get; init; }

    /// <summary>The finding's id, which is the alert's for ever.</summary>
    public required string Finding { get; init; }

    public string? Setup { get; init; }

    public required string Rule { get; init; }

    public required Severity Severity { get; init; }

    /// <summary>The moment from which the finding held.</summary>
    public required DateTimeOffset HeldUtc { get; init; }

    public required AlertStep Step { get; init; }

    /// <summary>Why it no longer holds.</summary>
    public string? Because { get; init; }

    /// <summary>Why it is not to be told, in a sentence; null where it is.</summary>
    public string? WhyNot { get; init; }
}
