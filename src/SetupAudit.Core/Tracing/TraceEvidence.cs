using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Tracing;

/// <summary>What a trace looks at: the setup the part was cut in, as it stood then, and all that is known before and
/// after.</summary>
public sealed record TraceEvidence
{
    /// <summary>When the bad part was cut.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>The setup that was current then, with the programs, sheets and past known of it.</summary>
    public required SetupCase Case { get; init; }

    /// <summary>Every offset as it stood then.</summary>
    public required OffsetTable Table { get; init; }

    /// <summary>What offsets should have been; those of which nothing is known are left out.</summary>
    public required IReadOnlyDictionary<OffsetKey, ExpectedValue> Expected { get; init; }

    /// <summary>Every change of the machine, first sights included, in order.</summary>
    public required IReadOnlyList<Change> Changes { get; init; }

    /// <summary>Every cycle of the machine, in order, those after the bad part included.</summary>
    public required IReadOnlyList<Cycle> Cycles { get; init; }

    /// <summary>The moment the machine's sources were last heard of.</summary>
    public required DateTimeOffset LatestUtc { get; init; }

    /// <summary>When the job was set up; before the setup itself where that only goes on with it.</summary>
    public DateTimeOffset OpenedUtc => (Case.GoesOnFrom ?? Case.Setup).OpenedUtc;

    /// <summary>When the job's first cycle started; null where none is known.</summary>
    public DateTimeOffset? CuttingUtc => (Case.GoesOnFrom ?? Case.Setup).CuttingUtc;
}
