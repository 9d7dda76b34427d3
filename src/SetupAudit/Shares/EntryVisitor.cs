namespace SetupAudit.Shares;

/// <summary>Called for each entry of a listing; the name is only valid during the call.</summary>
public delegate void EntryVisitor(ReadOnlySpan<char> name, EntryKind kind, FileStamp stamp);
