namespace SetupAudit.Alerts.Support;

/// <summary>A call as it came over the wire.</summary>
internal sealed record WebhookCall(string Request, IReadOnlyDictionary<string, string> Headers, byte[] Body);
