using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>The entries of the record, by their number.</summary>
internal static class EntryTable
{
    private const string InsertSql = "INSERT INTO entry (number, body, leaf) VALUES (@Number, @Body, @Leaf)";

    public static Task InsertAsync(
        DbTransaction transaction, IReadOnlyList<StoredEntry> entries, CancellationToken token) =>
        transaction.RunAsync(InsertSql, entries, token);

    private const string CountSql = "SELECT MAX(number) + 1 FROM entry";

    /// <summary>How many there are by the number of the last.</summary>
    public static async Task<long> CountAsync(DbConnection connection, CancellationToken token) =>
        await connection.ExecuteScalarAsync<long?>(new CommandDefinition(CountSql, cancellationToken: token)) ?? 0;

    private const string PageSql = """
        SELECT number, body, leaf FROM entry WHERE number >= @From AND number < @Before ORDER BY number LIMIT @Limit
        """;

    public static async Task<IReadOnlyList<StoredEntry>> PageAsync(
        DbConnection connection, long from, long before, int limit, CancellationToken token) =>
        [.. await connection.QueryAsync<StoredEntry>(new CommandDefinition(
            PageSql, new { From = from, Before = before, Limit = limit }, cancellationToken: token))];

    public static async Task<IReadOnlyList<StoredEntry>> PageOfKindsAsync(DbConnection connection, Dialect dialect,
        IReadOnlyList<string> kinds, long from, int limit, CancellationToken token) =>
        [.. await connection.QueryAsync<StoredEntry>(new CommandDefinition(
            dialect.EntriesOfKindsSql, new { From = from, Kinds = kinds, Limit = limit }, cancellationToken: token))];

    private const string LeavesSql = """
        SELECT leaf FROM entry WHERE number >= @From AND number < @Before ORDER BY number
        """;

    /// <summary>The leaf hashes of a range, one after the other and not all at once.</summary>
    public static IAsyncEnumerable<byte[]> LeavesAsync(DbConnection connection, long from, long before) =>
        connection.QueryUnbufferedAsync<byte[]>(LeavesSql, new { From = from, Before = before });
}
