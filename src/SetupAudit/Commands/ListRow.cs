namespace SetupAudit.Commands;

/// <summary>One row of a list: its JSON body, and why it no longer holds (null where it does).</summary>
internal sealed record ListRow(string Body, string? Withdrawn);
