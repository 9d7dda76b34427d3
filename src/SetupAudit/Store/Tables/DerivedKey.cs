namespace SetupAudit.Store.Tables;

/// <summary>What a derived row is the newest word about.</summary>
internal readonly record struct DerivedKey(string Machine, DerivedKind Kind, string Id);
