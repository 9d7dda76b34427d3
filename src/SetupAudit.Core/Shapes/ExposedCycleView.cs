namespace SetupAudit.Shapes;

/// <summary>A cycle in the window.</summary>
/// <param name="Certain">It ran under the wrong offset from start to end; else it may have.</param>
public sealed record ExposedCycleView(CycleView Cycle, bool Certain);
