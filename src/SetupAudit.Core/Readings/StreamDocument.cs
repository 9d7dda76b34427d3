using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>What a document of an agent says, in the order of the moments, and what could not be read.</summary>
public sealed record StreamDocument(IReadOnlyList<StreamMoment> Moments, IReadOnlyList<Fault> Faults)
{
    /// <summary>Read without faults; in part where something was read; else not at all.</summary>
    public ArrivalStatus Status => Faults.Count == 0 ? ArrivalStatus.Read
        : Moments.Any(moment => moment.Observed.Count > 0) ? ArrivalStatus.Partial
        : ArrivalStatus.Unreadable;
}
