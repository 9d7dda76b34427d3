using SetupAudit.Evidence;

namespace SetupAudit.Readings;

/// <summary>What a dump says: its offsets, the parameters configured as measured, and what could not be read.</summary>
public sealed record DumpResult(
    IReadOnlyList<OffsetReading> Offsets, IReadOnlyList<PrintLine> Measured, IReadOnlyList<Fault> Faults)
{
    /// <summary>Read without faults; in part where something was read; else not at all.</summary>
    public ArrivalStatus Status => Faults.Count == 0 ? ArrivalStatus.Read
        : Offsets.Count + Measured.Count > 0 ? ArrivalStatus.Partial
        : ArrivalStatus.Unreadable;
}
