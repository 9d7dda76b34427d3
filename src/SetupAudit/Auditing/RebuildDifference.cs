using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>A row that deriving everything again gives otherwise than the record has it.</summary>
/// <param name="Recorded">Its body in the record; null where the record has no such row.</param>
/// <param name="Rebuilt">Its body as derived again; null where nothing brings it forth.</param>
public sealed record RebuildDifference(string Machine, DerivedKind Kind, string Id, string? Recorded, string? Rebuilt);
