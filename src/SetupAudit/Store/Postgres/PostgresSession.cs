using System.Data.Common;
using Dapper;
using Npgsql;
using Serilog;
using SetupAudit.Store.Records;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Postgres;

/// <summary>What a session of the store asks of its server, and sets for itself.</summary>
internal static class PostgresSession
{
    // What the role, the database or the server set for other programs must not end a session that only waits, and a
    // computer that is gone must not hold the lock for hours.
    private const string SetSql = """
        SET idle_session_timeout = 0; SET idle_in_transaction_session_timeout = 0; SET statement_timeout = 0;
        SET tcp_keepalives_idle = 15; SET tcp_keepalives_interval = 5; SET tcp_keepalives_count = 3
        """;

    private const string LookSql = """
        SELECT current_setting('server_encoding') AS encoding, current_setting('fsync') AS fsync,
            current_setting('full_page_writes') AS full_page_writes,
            current_setting('synchronous_commit') AS synchronous_commit, current_schema()::text AS schema,
            pg_is_in_recovery() AS is_standby
        """;

    private const string WaitSql = "SET synchronous_commit = on";

    /// <summary>Throws where the server would not keep what it says it keeps, or not as it was given.</summary>
    public static async Task RequireAsync(DbConnection writer, string name, CancellationToken token)
    {
        await writer.ExecuteAsync(new CommandDefinition(SetSql, cancellationToken: token));
        var look = new CommandDefinition(LookSql, cancellationToken: token);
        var found = await writer.QuerySingleAsync<Look>(look);
        // Never less than the server was set to: it may wait for a second server as well.
        if (found.Synchronous_Commit is "off")
        {
            await writer.ExecuteAsync(new CommandDefinition(WaitSql, cancellationToken: token));
            found = await writer.QuerySingleAsync<Look>(look);
        }
        if (found.Is_Standby)
            throw new StoreException(StoreFaultKind.Temporary,
                $"The server of {name} is a standby, which takes no writes.");
        if (Refusal(found, name) is { } refusal) throw new StoreException(StoreFaultKind.Final, refusal);
        if (found.Full_Page_Writes != "on")
            Log.Warning("The server of {Database} runs with full_page_writes=off: unless its disk writes whole pages, "
                + "a power cut can damage the record", name);
    }

    private static string? Refusal(Look found, string name)
    {
        if (found.Encoding != "UTF8")
            return $"The encoding of {name} is {found.Encoding}; a store needs UTF8, so that every text comes back as "
                + "it was. Create the database with ENCODING 'UTF8'.";
        if (found.Fsync != "on")
            return $"The server of {name} runs with fsync=off: a power cut would lose rows that the checkpoints name. "
                + "Set fsync=on.";
        if (found.Synchronous_Commit is "off")
            return $"The server of {name} does not take synchronous_commit=on: what it says is kept could be lost.";
        return found.Schema is null
            ? $"The role has no schema in {name}: none of its search_path is there and may be used by it."
            : null;
    }

    private const string MayCreateSql = "SELECT has_schema_privilege(current_schema(), 'CREATE')";

    /// <summary>Whether this role can build tables.</summary>
    public static async Task<bool> MayCreateAsync(DbConnection connection, CancellationToken token) =>
        await connection.ExecuteScalarAsync<bool>(new CommandDefinition(MayCreateSql, cancellationToken: token));

    private const string JoinSql = "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY; SET TRANSACTION SNAPSHOT ";

    private const string ExportSql = "SELECT pg_export_snapshot()";

    /// <summary>Has a session see what another one sees in its snapshot.</summary>
    public static void Join(NpgsqlConnection session, DbConnection snapshot)
    {
        using var export = snapshot.CreateCommand();
        export.CommandText = ExportSql;
        // The server's own name for it, which a statement takes as a literal only.
        var id = (string?)export.ExecuteScalar() ?? "";
        if (id.Any(letter => !char.IsAsciiHexDigit(letter) && letter != '-'))
            throw new InvalidOperationException("a snapshot of an unknown name");
        using var join = new NpgsqlCommand($"{JoinSql}'{id}'", session);
        join.ExecuteNonQuery();
    }

    private const string MightSql = """
        SELECT tablename::text FROM pg_tables
        WHERE schemaname = current_schema() AND tablename NOT LIKE 'scratch\_%'
            AND has_table_privilege(format('%I.%I', schemaname, tablename), 'UPDATE, DELETE, TRUNCATE')
        ORDER BY tablename
        """;

    /// <summary>What makes altering rows easier than it need be.</summary>
    public static IEnumerable<string> Remarks(DbConnection connection)
    {
        var might = new List<string>();
        using (var rows = connection.Read(MightSql))
            while (rows.Read()) might.Add(rows.GetString(0));
        var lasting = might.Count(name => name is "entry" or "checkpoint"
            || SealedTables.All.Any(table => table.Name == name));
        if (lasting > 0)
            yield return "The role that reads here may also alter rows of lasting tables: only their guards keep it "
                + "from it. deploy/postgres-roles.sql makes a role that may not.";
    }

    private sealed class Look
    {
        public string Encoding { get; init; } = "";

        public string Fsync { get; init; } = "";

        public string Full_Page_Writes { get; init; } = "";

        public string Synchronous_Commit { get; init; } = "";

        public string? Schema { get; init; }

        public bool Is_Standby { get; init; }
    }
}
