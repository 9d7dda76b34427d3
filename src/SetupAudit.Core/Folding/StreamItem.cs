using System.Collections.Immutable;
using SetupAudit.Datums;

namespace SetupAudit.Folding;

/// <summary>What one item of an agent holds of registers or tools, by its last observation.</summary>
/// <param name="Stands">Nothing was lost since, so that it still holds them.</param>
public sealed record StreamItem(
    ulong Instance, ulong Sequence, bool Stands, ImmutableSortedDictionary<OffsetKey, decimal?> Values)
{
    public static StreamItem Nothing { get; } =
        new(0, 0, false, ImmutableSortedDictionary<OffsetKey, decimal?>.Empty);
}
