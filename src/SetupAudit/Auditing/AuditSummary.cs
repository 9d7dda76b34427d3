using SetupAudit.Alerts;

namespace SetupAudit.Auditing;

/// <summary>What came of auditing a shop once.</summary>
public sealed record AuditSummary(IReadOnlyList<MachineSummary> Machines)
{
    /// <summary>What came of sending alerts.</summary>
    public SendCount Sent { get; init; } = SendCount.None;

    /// <summary>Whether anything could not be read, a file or a whole folder, or sending gave up.</summary>
    public bool SomethingIsWrong =>
        Machines.Any(machine => machine.NotWhole > 0 || machine.SourceFaults.Count > 0) || Sent.GaveUp > 0;
}
