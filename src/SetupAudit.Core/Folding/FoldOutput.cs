using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>What a fold has finished and not yet handed over.</summary>
public sealed record FoldOutput(
    ImmutableList<DerivedSetup> Setups,
    ImmutableList<Change> Changes,
    ImmutableList<Cycle> Cycles,
    ImmutableList<Measurement> Measurements,
    ImmutableList<Finding> Findings)
{
    public static FoldOutput Empty { get; } = new([], [], [], [], []);
}
