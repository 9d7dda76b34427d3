namespace SetupAudit.Alerts.Channels;

/// <summary>One element of structured data: its id, and names with values in order.</summary>
internal sealed record SyslogElement(string Id, IReadOnlyList<(string Name, string Value)> Values);
