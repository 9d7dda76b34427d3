using SetupAudit.Datums;
using SetupAudit.Evidence;

namespace SetupAudit.Setups;

/// <summary>
/// A print-out says that an offset was touched: by a probing routine, a tool setter, or a person's entry.
/// </summary>
public sealed record Touch
{
    public required OffsetKey Key { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>Null where the line does not say the value: a dump may show it later.</summary>
    public decimal? Value { get; init; }

    public string? Feature { get; init; }

    public required SourceLine Source { get; init; }

    /// <summary>A surface was not found in the routine, so this sets nothing.</summary>
    public bool Missed { get; init; }

    /// <summary>Index of the cycle it was made in, counted in the setup; null outside any.</summary>
    public int? Cycle { get; init; }

    /// <summary>How many cycles of the setup had started when it was made.</summary>
    public int CyclesBefore { get; init; }
}
