namespace SetupAudit.Store;

/// <summary>Who has another key sign the record from now on, and why.</summary>
/// <param name="Account">The account of the operating system that did it.</param>
public sealed record KeyOrder(string By, string Reason, string Account);
