using SetupAudit.Changes;
using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>All that is derived of a machine since its state was last drained.</summary>
public sealed record DerivedMachine
{
    public required string Machine { get; init; }

    public required DateTimeOffset HorizonUtc { get; init; }

    /// <summary>Finished setups and those still live, each whole.</summary>
    public required IReadOnlyList<DerivedSetup> Setups { get; init; }

    /// <summary>First sights that lie in no setup.</summary>
    public required IReadOnlyList<Change> Changes { get; init; }

    /// <summary>Cycles that ran before any setup was known.</summary>
    public required IReadOnlyList<Cycle> Cycles { get; init; }

    public required IReadOnlyList<Measurement> Measurements { get; init; }

    /// <summary>Findings that belong to no setup: arrivals that could not be read.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>
    /// Findings about the sources themselves, which hold as of the horizon and no longer than they do.
    /// </summary>
    public required IReadOnlyList<Finding> Standing { get; init; }
}
