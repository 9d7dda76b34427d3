using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Dapper;
using Microsoft.Data.Sqlite;

namespace SetupAudit.Store;

/// <summary>
/// The numbered files that build the tables, in order. They are never edited: a change of the tables is a new file.
/// </summary>
internal sealed class MigrationSet
{
    private const string Folder = "SetupAudit.Store.Migrations.";

    private readonly IReadOnlyList<Migration> _migrations;

    internal MigrationSet(IReadOnlyList<(string Name, string Text)> files) => _migrations =
    [
        .. files.OrderBy(file => file.Name, StringComparer.Ordinal).Select((file, index) => new Migration(
            index + 1, file.Name, file.Text, Digest(file.Text))),
    ];

    /// <summary>Where those are noted that a database was built with.</summary>
    public const string TableName = "migration";

    /// <summary>The migrations that this program brings.</summary>
    public static MigrationSet Own { get; } = new(ReadOwn());

    /// <summary>Brings the tables up to this program, each file in a transaction of its own.</summary>
    public async Task ApplyAsync(
        SqliteConnection connection, string folder, DateTimeOffset nowUtc, CancellationToken token)
    {
        var applied = await AppliedAsync(connection, folder, token);
        foreach (var migration in _migrations.Skip(applied))
        {
            await using var transaction = await connection.BeginTransactionAsync(token);
            await connection.ExecuteAsync(new CommandDefinition(
                migration.Text, null, transaction, cancellationToken: token));
            await InsertAsync(connection, transaction, migration, nowUtc, token);
            await transaction.CommitAsync(token);
        }
    }

    /// <summary>Builds the tables of an empty database with those files whose digests are given.</summary>
    public void Build(SqliteConnection connection, IReadOnlySet<string> sha256s)
    {
        foreach (var migration in _migrations.Where(migration => sha256s.Contains(migration.Sha256)))
            connection.Execute(migration.Text);
    }

    /// <summary>Throws where the tables are not those that this program knows: a reader cannot change them.</summary>
    public async Task RequireAsync(SqliteConnection connection, string folder, CancellationToken token)
    {
        if (await AppliedAsync(connection, folder, token) < _migrations.Count)
            throw new StoreException(StoreFaultKind.Final,
                $"The store in {folder} was written by an older setupaudit. Run 'once' or 'run' with this one first: " +
                "they bring the store up to date.");
    }

    /// <summary>Whether the tables are those that this program brings, none missing.</summary>
    public async Task<bool> IsOwnAsync(SqliteConnection connection, string folder, CancellationToken token) =>
        await AppliedAsync(connection, folder, token) == _migrations.Count;

    private async Task<int> AppliedAsync(SqliteConnection connection, string folder, CancellationToken token)
    {
        var tables = await connection.QueryAsync<string>(new CommandDefinition(TablesSql, cancellationToken: token));
        if (!tables.Contains(TableName, StringComparer.Ordinal))
            return tables.Any()
                ? throw new StoreException(StoreFaultKind.Final,
                    $"The database in {folder} is not a store of setupaudit: it holds other tables.")
                : 0;
        var applied = new CommandDefinition(AppliedSql, cancellationToken: token);
        var rows = (await connection.QueryAsync<Row>(applied)).AsList();
        if (rows.Count > _migrations.Count)
            throw new StoreException(StoreFaultKind.Final,
                $"The store in {folder} is newer than this setupaudit: it holds table version {rows[^1].Number}, " +
                $"this program knows {_migrations.Count}. Use the newer program.");
        foreach (var (row, known) in rows.Zip(_migrations))
            if (row.Number != known.Number || row.Sha256 != known.Sha256)
                throw new StoreException(StoreFaultKind.Final,
                    $"The store in {folder} was built with another text of table version {known.Name} than this " +
                    "setupaudit brings. Use the program that wrote it.");
        return rows.Count;
    }

    private const string TablesSql = """
        SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' ORDER BY name
        """;

    private const string AppliedSql = "SELECT number, sha256 FROM migration ORDER BY number";

    private const string InsertSql = """
        INSERT INTO migration (number, name, sha256, applied_utc) VALUES (@Number, @Name, @Sha256, @AppliedUtc)
        """;

    private static Task<int> InsertAsync(SqliteConnection connection, System.Data.Common.DbTransaction transaction,
        Migration migration, DateTimeOffset nowUtc, CancellationToken token) =>
        connection.ExecuteAsync(new CommandDefinition(InsertSql,
            new { migration.Number, migration.Name, migration.Sha256, AppliedUtc = UtcText.Of(nowUtc) },
            transaction, cancellationToken: token));

    // Line ends may differ between check-outs; the statements do not.
    private static string Digest(string text) => Convert.ToHexStringLower(
        SHA256.HashData(Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n"))));

    private static IReadOnlyList<(string Name, string Text)> ReadOwn()
    {
        var assembly = Assembly.GetExecutingAssembly();
        return
        [
            .. assembly.GetManifestResourceNames()
                .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
                .Select(name => (name[Folder.Length..], Text(assembly, name))),
        ];
    }

    private static string Text(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"no resource {name}"));
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }

    private sealed record Migration(int Number, string Name, string Text, string Sha256);

    private sealed class Row
    {
        public long Number { get; init; }

        public string Sha256 { get; init; } = "";
    }
}
