using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Signed sizes and roots of the record, one a transaction.</summary>
internal static class CheckpointTable
{
    private const string InsertSql = "INSERT INTO checkpoint (size, root, signed) VALUES (@Size, @Root, @Signed)";

    public static Task InsertAsync(
        DbTransaction transaction, StoredCheckpoint checkpoint, CancellationToken token) =>
        transaction.RunAsync(InsertSql, checkpoint, token);

    private const string LastSql = "SELECT size, root, signed FROM checkpoint ORDER BY size DESC LIMIT 1";

    public static async Task<StoredCheckpoint?> LastAsync(DbConnection connection, CancellationToken token) =>
        await connection.QueryFirstOrDefaultAsync<StoredCheckpoint>(
            new CommandDefinition(LastSql, cancellationToken: token));

    private const string OfSizeSql = "SELECT size, root, signed FROM checkpoint WHERE size = @Size";

    public static async Task<StoredCheckpoint?> OfSizeAsync(
        DbConnection connection, long size, CancellationToken token) =>
        await connection.QueryFirstOrDefaultAsync<StoredCheckpoint>(
            new CommandDefinition(OfSizeSql, new { Size = size }, cancellationToken: token));

    private const string PageSql = """
        SELECT size, root, signed FROM checkpoint WHERE size > @After ORDER BY size LIMIT @Limit
        """;

    public static async Task<IReadOnlyList<StoredCheckpoint>> PageAsync(
        DbConnection connection, long after, int limit, CancellationToken token) =>
        [.. await connection.QueryAsync<StoredCheckpoint>(new CommandDefinition(
            PageSql, new { After = after, Limit = limit }, cancellationToken: token))];
}
