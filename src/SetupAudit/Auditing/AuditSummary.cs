using SetupAudit.Alerts;

namespace SetupAudit.Auditing;

/// <summary>What came of auditing a shop once.</summary>
public sealed record AuditSummary(IReadOnlyList<MachineSummary> Machines)
{
    /// <summary>What came of sending alerts.</summary>
    public SendCount Sent { get; init; } = SendCount.None;

    /// <summary>The record that was begun; null where there was one.</summary>
    public string? Begun { get; init; }

    /// <summary>
    /// Why the newest checkpoint was not time-stamped though it was due, in words; null where it was. It is tried
    /// again, and nothing that was taken in is less whole for it.
    /// </summary>
    public string? Unstamped { get; init; }

    /// <summary>Whether anything could not be read, a file or a whole folder, or sending gave up.</summary>
    public bool SomethingIsWrong =>
        Machines.Any(machine => machine.NotWhole > 0 || machine.SourceFaults.Count > 0) || Sent.GaveUp > 0;
}
