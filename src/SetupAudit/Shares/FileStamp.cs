namespace SetupAudit.Shares;

/// <summary>Size and modification time of a file: they decide whether to look again, never what it holds.</summary>
public readonly record struct FileStamp(long SizeBytes, DateTime ModifiedUtc);
