namespace SetupAudit.Store.Outbox;

/// <summary>
/// What alerts make of a finding that was raised or changed: a function of the configuration and the change alone. Null
/// where it concerns them not.
/// </summary>
public delegate StoredAlert? AlertLook(string machine, DerivedChange change, DateTimeOffset nowUtc);
