namespace SetupAudit.Store;

/// <summary>The statements that the databases of a store do not share, and the files that build its tables.</summary>
internal sealed record Dialect
{
    /// <summary>Where the migrations are among the program's resources.</summary>
    public required string Migrations { get; init; }

    /// <summary>The names of all tables and views, in their order.</summary>
    public required string TablesSql { get; init; }

    /// <summary>A page of the entries of some kinds, from a number on.</summary>
    public required string EntriesOfKindsSql { get; init; }

    /// <summary>What the database is built of: kind, name and statement of each part.</summary>
    public required string PartsSql { get; init; }

    public static Dialect Sqlite { get; } = new()
    {
        Migrations = "SetupAudit.Store.Migrations.",
        TablesSql = """
            SELECT name FROM sqlite_schema WHERE type IN ('table', 'view') AND name NOT LIKE 'sqlite\_%' ESCAPE '\'
            ORDER BY name
            """,
        EntriesOfKindsSql = """
            SELECT number, body, leaf FROM entry
            WHERE number >= @From AND json_extract(CAST(body AS TEXT), '$.kind') IN @Kinds ORDER BY number LIMIT @Limit
            """,
        PartsSql = """
            SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\_%' ESCAPE '\' ORDER BY type, name
            """,
    };
}
