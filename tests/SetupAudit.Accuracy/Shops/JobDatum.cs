using SetupAudit.Datums;

namespace SetupAudit.Accuracy.Shops;

/// <summary>A datum that a job uses.</summary>
internal sealed record JobDatum(Register Register, IReadOnlyDictionary<Axis, Place> Places);
