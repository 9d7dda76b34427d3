namespace SetupAudit.Shop;

/// <summary>Where the record is kept.</summary>
/// <param name="Folder">Full path of the evidence folder and, with SQLite, the database.</param>
/// <param name="Postgres">Connection string of a PostgreSQL database; null for SQLite.</param>
public sealed record StoreConfig(string Folder, string? Postgres);
