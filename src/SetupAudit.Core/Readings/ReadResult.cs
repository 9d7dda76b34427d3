using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>
/// What a reader got out of a file: the readings before the first fault that stopped it, and the faults.
/// </summary>
public sealed record ReadResult<T>(IReadOnlyList<T> Readings, IReadOnlyList<Fault> Faults)
{
    /// <summary>Read without faults; in part where something was read; else not at all.</summary>
    public ArrivalStatus Status => Faults.Count == 0 ? ArrivalStatus.Read
        : Readings.Count > 0 ? ArrivalStatus.Partial
        : ArrivalStatus.Unreadable;
}
