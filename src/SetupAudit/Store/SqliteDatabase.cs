using System.Data.Common;
using System.Globalization;
using Dapper;
using Microsoft.Data.Sqlite;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store;

/// <summary>Opens the database file of a store with the settings that keep a record whole.</summary>
internal sealed class SqliteDatabase(string folder) : StoreDatabase(folder)
{
    public const string FileName = "audit.db";

    private const int BusySeconds = 10;

    // 3.7.0 to 3.51.2 can damage a database in write-ahead mode when two connections write and checkpoint at once.
    private static readonly Version Oldest = new(3, 51, 3);

    private static readonly (string Name, string Value, string Expected)[] Pragmas =
    [
        ("synchronous", "FULL", "2"), ("foreign_keys", "ON", "1"), ("recursive_triggers", "ON", "1"),
        ("trusted_schema", "OFF", "0"), ("mmap_size", "0", "0"), ("cell_size_check", "ON", "1"),
        ("busy_timeout", "10000", "10000"),
    ];

    public override string Place => Folder;

    public override string Name => $"the database {Path.Combine(Folder, FileName)}";

    public override Dialect Dialect => Dialect.Sqlite;

    public override MigrationSet Migrations => MigrationSet.Own;

    public override bool MayBeThere => File.Exists(Path.Combine(Folder, FileName));

    public override async Task<DbConnection> OpenWriterAsync(CancellationToken token) =>
        await OpenWriterAsync(Folder, token);

    public override async Task<DbConnection> OpenReaderAsync(CancellationToken token)
    {
        var connection = await OpenReaderAsync(Folder, token);
        RequireVersion(connection.ServerVersion);
        return connection;
    }

    public override void ForgetReaders() => ForgetReaders(Folder);

    public override Task<DbTransaction> SnapshotAsync(DbConnection reader, CancellationToken token) =>
        Task.FromResult<DbTransaction>(((SqliteConnection)reader).BeginTransaction(deferred: true));

    // Rows of several statements are read beside each other.
    public override DbDataReader Walk(DbConnection snapshot, string sql) => snapshot.Read(sql);

    // Indexes as well: a list read by an index that was altered would show other rows than those that are sealed.
    private const string DamageSql = "PRAGMA integrity_check(1)";

    public override string? Damage(DbConnection connection)
    {
        using var rows = connection.Read(DamageSql);
        var answer = rows.Read() ? rows.GetString(0) : "no answer";
        return answer == "ok" ? null : answer;
    }

    public override IReadOnlyDictionary<string, string> ExpectedParts(IReadOnlySet<string> migrations)
    {
        using var memory = new SqliteConnection("Data Source=:memory:;Pooling=False");
        memory.Open();
        MigrationSet.Own.Build(memory, migrations);
        return SchemaCheck.Parts(memory, Dialect);
    }

    /// <summary>The only connection that writes. It is not pooled: closing it closes the file.</summary>
    public static async Task<SqliteConnection> OpenWriterAsync(string folder, CancellationToken token)
    {
        var connection = await OpenAsync(folder, SqliteOpenMode.ReadWriteCreate, pooling: false, token);
        try
        {
            RequireVersion(connection.ServerVersion);
            var mode = await connection.ExecuteScalarAsync<string>(new CommandDefinition(
                "PRAGMA journal_mode=WAL", cancellationToken: token));
            if (mode != "wal")
                throw new StoreException(StoreFaultKind.Final,
                    $"The database in {folder} cannot use a write-ahead log (it answers '{mode}').");
            await SetPragmasAsync(connection, token);
            return connection;
        }
        catch (Exception)
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    /// <summary>A connection that only reads, beside a writer or without one.</summary>
    public static Task<SqliteConnection> OpenReaderAsync(string folder, CancellationToken token) =>
        OpenAsync(folder, SqliteOpenMode.ReadOnly, pooling: true, token);

    /// <summary>Closes the files that pooled readers hold open.</summary>
    public static void ForgetReaders(string folder)
    {
        using var connection = new SqliteConnection(ConnectionText(folder, SqliteOpenMode.ReadOnly, pooling: true));
        SqliteConnection.ClearPool(connection);
    }

    internal static void RequireVersion(string version)
    {
        if (!Version.TryParse(version, out var found) || found < Oldest)
            throw new StoreException(StoreFaultKind.Final,
                $"This computer's SQLite library is {version}; the store needs {Oldest} or newer, because older ones " +
                "can damage the database.");
    }

    private static async Task<SqliteConnection> OpenAsync(
        string folder, SqliteOpenMode mode, bool pooling, CancellationToken token)
    {
        var connection = new SqliteConnection(ConnectionText(folder, mode, pooling));
        try
        {
            await connection.OpenAsync(token);
            return connection;
        }
        catch (Exception)
        {
            await connection.DisposeAsync();
            throw;
        }
    }

    private static string ConnectionText(string folder, SqliteOpenMode mode, bool pooling) =>
        new SqliteConnectionStringBuilder
        {
            DataSource = Path.Combine(folder, FileName),
            Mode = mode,
            Pooling = pooling,
            DefaultTimeout = BusySeconds,
        }.ToString();

    // Each setting is read back: a library built without one would ignore it in silence.
    private static async Task SetPragmasAsync(SqliteConnection connection, CancellationToken token)
    {
        foreach (var (name, value, expected) in Pragmas)
        {
            await connection.ExecuteAsync(new CommandDefinition($"PRAGMA {name}={value}", cancellationToken: token));
            var answer = Convert.ToString(await connection.ExecuteScalarAsync(new CommandDefinition(
                $"PRAGMA {name}", cancellationToken: token)), CultureInfo.InvariantCulture);
            if (answer != expected)
                throw new StoreException(StoreFaultKind.Final,
                    $"SQLite does not take the setting {name}={value} (it answers '{answer}').");
        }
    }
}
