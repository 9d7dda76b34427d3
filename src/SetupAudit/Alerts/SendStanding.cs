namespace SetupAudit.Alerts;

/// <summary>How sending stands.</summary>
/// <param name="Open">How many messages are on their way, each counted once a receiver.</param>
/// <param name="Held">A sentence for each receiver that nothing goes to until a person changes something.</param>
public sealed record SendStanding(int Open, IReadOnlyList<string> Held);
