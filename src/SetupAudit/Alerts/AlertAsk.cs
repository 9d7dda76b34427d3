using SetupAudit.Store.Outbox;

namespace SetupAudit.Alerts;

/// <summary>What a person asks of alerts, handed to whoever holds the store.</summary>
public sealed record AlertAsk
{
    /// <summary>What is handed over twice is done once.</summary>
    public required string Id { get; init; }

    /// <summary>A quiet time, or the end of one; null where something is to be sent again.</summary>
    public StoredQuiet? Quiet { get; init; }

    /// <summary>
    /// The message, or the finding that it tells, by a beginning of its id; null for everything that did not arrive.
    /// </summary>
    public string? Resend { get; init; }
}
