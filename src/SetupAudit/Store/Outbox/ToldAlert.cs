namespace SetupAudit.Store.Outbox;

/// <summary>What became of an alert that was to be told.</summary>
/// <param name="Alert">Its place in the record.</param>
/// <param name="Message">The message it is in; null where it is in none.</param>
/// <param name="Listed">Whether the message names it, or only counts it.</param>
/// <param name="WhyNot">Why it is in no message, in a sentence.</param>
public sealed record ToldAlert(long Alert, string? Message, bool Listed, string? WhyNot);
