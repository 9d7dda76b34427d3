namespace SetupAudit.Store;

/// <summary>
/// An arrival that is looked things up in (a program, a sheet, a waiting file), and what was read of it where reading
/// it again would take long.
/// </summary>
public sealed record ShelfItem(StoredArrival Arrival, ReadOnlyMemory<byte>? Body);
