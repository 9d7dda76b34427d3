namespace SetupAudit.Alerts;

/// <summary>What became of what a person asked for.</summary>
/// <param name="Says">A sentence.</param>
public sealed record AlertAnswer(string Id, bool Done, string Says);
