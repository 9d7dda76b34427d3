using SetupAudit.Setups;

namespace SetupAudit.Tracing;

/// <summary>A cycle that ran under a wrong offset, or may have.</summary>
/// <param name="Certain">It ran under it from start to end; else it may have, in whole or in part.</param>
public sealed record ExposedCycle(Cycle Cycle, bool Certain);
