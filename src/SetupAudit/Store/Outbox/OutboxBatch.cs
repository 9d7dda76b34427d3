namespace SetupAudit.Store.Outbox;

/// <summary>What is written together: messages, what they tell, and their first words on the way.</summary>
public sealed record OutboxBatch
{
    public IReadOnlyList<StoredMessage> Messages { get; init; } = [];

    public IReadOnlyList<ToldAlert> Told { get; init; } = [];

    public IReadOnlyList<RemindedAlert> Reminded { get; init; } = [];

    public IReadOnlyList<StoredSending> Sendings { get; init; } = [];
}
