namespace SetupAudit.Alerts;

/// <summary>What came of one try, and why.</summary>
/// <param name="Reason">A sentence for people and the record; it never holds a secret.</param>
/// <param name="RetryAfter">How long the receiver asked to be left alone; null where it did not.</param>
public sealed record SendResult(SendOutcome Outcome, string Reason, TimeSpan? RetryAfter = null);
