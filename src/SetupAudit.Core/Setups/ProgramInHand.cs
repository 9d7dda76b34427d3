namespace SetupAudit.Setups;

/// <summary>A program came to hand in a setup: a print-out named it, or a cycle of it began.</summary>
public sealed record ProgramInHand(string Program, DateTimeOffset AtUtc);
