using SetupAudit.Findings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>A setup with what the rules say of it.</summary>
public sealed record DerivedSetup(Setup Setup, IReadOnlyList<ProgramUse> Programs, IReadOnlyList<Finding> Findings);
