namespace SetupAudit.Readings;

/// <summary>An item that a document shows to hold since one observation and no later one.</summary>
public sealed record StreamShown(string Item, ulong Sequence);
