using SetupAudit.Evidence;
using SetupAudit.Readings;

namespace SetupAudit.Auditing;

/// <summary>A dump that waits to be loaded into a control: it proves no state, and explains a later change.</summary>
internal sealed record WaitingDump(
    DateTimeOffset AtUtc, string File, string Sha256, IReadOnlyList<OffsetReading> Offsets)
{
    public SourceLine At(int line) => new(File, Sha256, line);
}
