using System.Data.Common;
using System.Globalization;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Dapper;

namespace SetupAudit.Store;

/// <summary>
/// The numbered files that build the tables, in order. They are never edited: a change of the tables is a new file.
/// </summary>
internal sealed class MigrationSet
{
    private readonly IReadOnlyList<Migration> _migrations;

    private readonly Dialect _dialect;

    internal MigrationSet(IReadOnlyList<(string Name, string Text)> files, Dialect? dialect = null)
    {
        _dialect = dialect ?? Dialect.Sqlite;
        _migrations =
        [
            .. files.OrderBy(file => file.Name, StringComparer.Ordinal).Select((file, index) => new Migration(
                index + 1, file.Name, file.Text, Digest(file.Text))),
        ];
    }

    /// <summary>Where those are noted that a database was built with.</summary>
    public const string TableName = "migration";

    /// <summary>The migrations that this program brings, for SQLite.</summary>
    public static MigrationSet Own { get; } = Of(Dialect.Sqlite);

    /// <summary>Brings the tables up to this program, each file in a transaction of its own.</summary>
    public async Task ApplyAsync(
        DbConnection connection, string place, DateTimeOffset nowUtc, CancellationToken token)
    {
        var applied = await AppliedAsync(connection, place, token);
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
    public void Build(DbConnection connection, IReadOnlySet<string> sha256s)
    {
        foreach (var migration in _migrations.Where(migration => sha256s.Contains(migration.Sha256)))
            connection.Execute(migration.Text);
    }

    /// <summary>Throws where the tables are not those that this program knows: a reader cannot change them.</summary>
    public async Task RequireAsync(DbConnection connection, string place, CancellationToken token)
    {
        var applied = await AppliedAsync(connection, place, token);
        if (applied == 0)
            throw NotBegun(place);
        if (applied < _migrations.Count)
            throw new StoreException(StoreFaultKind.Final,
                $"The store in {place} was written by an older setupaudit. Run 'once' or 'run' with this one first: " +
                "they bring the store up to date.");
    }

    public static StoreException NotBegun(string place) => new(StoreFaultKind.Final,
        $"There is no record in {place} yet. The commands 'once' and 'run' begin one.");

    /// <summary>Whether the tables are those that this program brings, none missing.</summary>
    public async Task<bool> IsOwnAsync(DbConnection connection, string place, CancellationToken token) =>
        await AppliedAsync(connection, place, token) == _migrations.Count;

    /// <summary>The name of the last file among those whose digests are given; null for none.</summary>
    public string? NameOfLast(IReadOnlySet<string> sha256s) =>
        _migrations.LastOrDefault(migration => sha256s.Contains(migration.Sha256))?.Name;

    /// <summary>What builds those tables that are not there yet, for somebody else to run; empty for none.</summary>
    public async Task<string> ScriptAsync(
        DbConnection connection, string place, DateTimeOffset nowUtc, CancellationToken token)
    {
        var script = new StringBuilder();
        foreach (var migration in _migrations.Skip(await AppliedAsync(connection, place, token)))
            script.Append(migration.Text.ReplaceLineEndings("\n")).Append(CultureInfo.InvariantCulture, $"""

                INSERT INTO migration (number, name, sha256, applied_utc)
                VALUES ({migration.Number}, '{migration.Name}', '{migration.Sha256}', '{UtcText.Of(nowUtc)}');

                """);
        return script.ToString();
    }

    private async Task<int> AppliedAsync(DbConnection connection, string place, CancellationToken token)
    {
        var all = new CommandDefinition(_dialect.TablesSql, cancellationToken: token);
        var tables = (await connection.QueryAsync<string>(all)).AsList();
        if (!tables.Contains(TableName, StringComparer.Ordinal))
            return tables.Count > 0
                ? throw new StoreException(StoreFaultKind.Final,
                    $"The database in {place} is not a store of setupaudit: it holds other tables.")
                : 0;
        var applied = new CommandDefinition(AppliedSql, cancellationToken: token);
        var rows = (await connection.QueryAsync<Row>(applied)).AsList();
        if (rows.Count > _migrations.Count)
            throw new StoreException(StoreFaultKind.Final,
                $"The store in {place} is newer than this setupaudit: it holds table version {rows[^1].Number}, " +
                $"this program knows {_migrations.Count}. Use the newer program.");
        foreach (var (row, known) in rows.Zip(_migrations))
            if (row.Number != known.Number || row.Sha256 != known.Sha256)
                throw new StoreException(StoreFaultKind.Final,
                    $"The store in {place} was built with another text of table version {known.Name} than this " +
                    "setupaudit brings. Use the program that wrote it.");
        return rows.Count;
    }

    private const string AppliedSql = "SELECT number, sha256 FROM migration ORDER BY number";

    private const string InsertSql = """
        INSERT INTO migration (number, name, sha256, applied_utc) VALUES (@Number, @Name, @Sha256, @AppliedUtc)
        """;

    private static Task<int> InsertAsync(DbConnection connection, DbTransaction transaction,
        Migration migration, DateTimeOffset nowUtc, CancellationToken token) =>
        connection.ExecuteAsync(new CommandDefinition(InsertSql,
            new { migration.Number, migration.Name, migration.Sha256, AppliedUtc = UtcText.Of(nowUtc) },
            transaction, cancellationToken: token));

    // Line ends may differ between check-outs; the statements do not.
    private static string Digest(string text) => Convert.ToHexStringLower(
        SHA256.HashData(Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n"))));

    /// <summary>Those among the program's resources.</summary>
    public static MigrationSet Of(Dialect dialect)
    {
        var (assembly, folder) = (Assembly.GetExecutingAssembly(), dialect.Migrations);
        return new MigrationSet(
        [
            .. assembly.GetManifestResourceNames()
                .Where(name => name.StartsWith(folder, StringComparison.Ordinal)
                    && name.EndsWith(".sql", StringComparison.Ordinal))
                .Select(name => (name[folder.Length..], Text(assembly, name))),
        ], dialect);
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
