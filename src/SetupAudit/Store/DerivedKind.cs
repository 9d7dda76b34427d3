namespace SetupAudit.Store;

/// <summary>What a derived row tells, as contract section 5 names it.</summary>
public enum DerivedKind
{
    Setup,
    Change,
    Finding,
    Measurement,
    Program,
    Cycle,
    Arrival,
    Coverage,
}
