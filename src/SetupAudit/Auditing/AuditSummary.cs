namespace SetupAudit.Auditing;

/// <summary>What came of auditing a shop once.</summary>
public sealed record AuditSummary(IReadOnlyList<MachineSummary> Machines)
{
    /// <summary>Whether anything could not be read: a file, or a whole folder.</summary>
    public bool SomethingIsWrong =>
        Machines.Any(machine => machine.NotWhole > 0 || machine.SourceFaults.Count > 0);
}
