namespace SetupAudit.Store;

/// <summary>
/// One difference that was recorded. The former body is the last one, also where it had been withdrawn.
/// </summary>
public sealed record DerivedChange(DerivedKind Kind, string Id, DerivedStep Step, string? Former, string? Body);
