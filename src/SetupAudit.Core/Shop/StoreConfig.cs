namespace SetupAudit.Shop;

/// <summary>Where the record is kept.</summary>
/// <param name="Folder">Full path of the evidence folder and, with SQLite, the database.</param>
/// <param name="Postgres">Connection string of a PostgreSQL database; null for SQLite.</param>
public sealed record StoreConfig(string Folder, string? Postgres)
{
    /// <summary>Full path of a folder off this computer that checkpoints are copied to; null for none.</summary>
    public string? Checkpoints { get; init; }

    /// <summary>Full path of the key that signs the record; null for the store's own.</summary>
    public string? KeyFile { get; init; }

    /// <summary>Who time-stamps checkpoints; null for nobody.</summary>
    public TimeStampConfig? TimeStamps { get; init; }
}
