namespace SetupAudit.Store.Records;

/// <summary>Which record this is, and the key that signs it.</summary>
/// <param name="Origin">Its name: it stands in every entry and checkpoint.</param>
internal sealed record RecordIdentity(string Origin, RecordKey Key);
