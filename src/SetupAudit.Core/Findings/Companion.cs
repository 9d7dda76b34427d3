using SetupAudit.Datums;

namespace SetupAudit.Findings;

/// <summary>What an offset should be by another register's, to which it usually keeps its distance.</summary>
/// <param name="Key">The other register's axis.</param>
/// <param name="Usual">Where the offset should be by it, and how much that varies.</param>
/// <param name="Accepted">Where it would be by the distances that reviews accepted.</param>
internal sealed record Companion(OffsetKey Key, Usual Usual, IReadOnlyList<decimal> Accepted);
