using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Changes;

/// <summary>A print-out line that may explain changes which a later dump shows.</summary>
/// <param name="Register">The register it names; null where it names none.</param>
/// <param name="Axes">The axes it names; empty where it names none, and then it may explain any axis of the
/// register.</param>
/// <param name="Tool">The tool it names; null for a datum.</param>
/// <param name="By">Measured, or entered where the configuration says that such a line tells an entry.</param>
public sealed record TouchRecord(
    DateTimeOffset AtUtc, Register? Register, IReadOnlyList<Axis> Axes, int? Tool, string? Feature, ChangedBy By,
    SourceLine Source)
{
    public bool Explains(OffsetKey key) => key.IsTool
        ? Tool == key.Tool
        : Tool is null && Register == key.Register && (Axes.Count == 0 || Axes.Contains(key.Axis));
}
