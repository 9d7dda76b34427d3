namespace SetupAudit.Store.Outbox;

/// <summary>A finding that was told before and that a reminder told again.</summary>
/// <param name="Message">The reminder.</param>
/// <param name="AtUtc">When it was put up.</param>
/// <param name="Listed">Whether the reminder names it, or only counts it.</param>
public sealed record RemindedAlert(
    string Machine, string Finding, string Message, DateTimeOffset AtUtc, bool Listed);
