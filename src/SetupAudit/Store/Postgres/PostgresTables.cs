using Dapper;
using SetupAudit.Shop;

namespace SetupAudit.Store.Postgres;

/// <summary>What the owner of a database runs, so that the role of the service need own nothing.</summary>
public static class PostgresTables
{
    private const string WhoSql = """
        SELECT quote_ident(current_schema()) AS schema, quote_ident(current_user) AS role
        """;

    // For every table there is, be it built now or before.
    private const string GrantsSql = """
        DO $grants$
        DECLARE
            one text;
        BEGIN
            FOR one IN SELECT tablename FROM pg_tables WHERE schemaname = current_schema() LOOP
                EXECUTE 'GRANT SELECT, INSERT ON ' || quote_ident(one) || ' TO ROLE_NAME';
                IF one LIKE 'scratch\_%' THEN
                    EXECUTE 'GRANT UPDATE, DELETE ON ' || quote_ident(one) || ' TO ROLE_NAME';
                END IF;
            END LOOP;
        END
        $grants$;
        """;

    /// <summary>In one transaction: the tables that are missing, and what the service's role needs.</summary>
    public static async Task<string> ScriptAsync(StoreConfig place, DateTimeOffset nowUtc, CancellationToken token)
    {
        var database = StoreDatabase.Of(place);
        await using var connection = await database.OpenReaderAsync(token);
        var who = await connection.QuerySingleAsync<Who>(new CommandDefinition(WhoSql, cancellationToken: token));
        if (who.Schema is null)
            throw new StoreException(StoreFaultKind.Final, $"The role {who.Role} has no schema in {database.Name}: "
                + "none of its search_path is there and may be used by it.");
        var tables = await database.Migrations.ScriptAsync(connection, database.Place, nowUtc, token);
        var role = who.Role.Replace("'", "''", StringComparison.Ordinal);
        return $"""
            -- The tables of a store of setupaudit, for the role {who.Role}. To be run by the owner of the database.
            BEGIN;
            SET LOCAL search_path TO {who.Schema};

            {tables}{GrantsSql.Replace("ROLE_NAME", role, StringComparison.Ordinal)}
            COMMIT;
            """.ReplaceLineEndings("\n") + "\n";
    }

    private sealed class Who
    {
        public string? Schema { get; init; }

        public string Role { get; init; } = "";
    }
}
