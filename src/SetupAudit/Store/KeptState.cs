namespace SetupAudit.Store;

/// <summary>The state of a machine's fold before the sighting at a position.</summary>
public sealed record KeptState(SightingPosition Position, byte[] State);
