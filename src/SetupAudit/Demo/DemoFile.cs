namespace SetupAudit.Demo;

/// <summary>A file of the made-up shop: where it lies below the shop's folder, when it was written there, and what it
/// says.</summary>
public sealed record DemoFile(string Name, DateTimeOffset ModifiedUtc, string Text);
