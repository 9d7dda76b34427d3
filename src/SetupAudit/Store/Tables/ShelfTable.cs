using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Which arrivals are looked things up in, with what was read of them.</summary>
internal static class ShelfTable
{
    private const string PutSql = """
        INSERT INTO scratch_shelf (machine, seq, body) VALUES (@Machine, @Seq, @Body)
        ON CONFLICT (machine, seq) DO UPDATE SET body = excluded.body
        """;

    public static Task PutAsync(
        DbTransaction transaction, string machine, IEnumerable<ShelfItem> items, CancellationToken token) =>
        transaction.RunAsync(PutSql, items.Select(item => new Row
        {
            Machine = machine,
            Seq = item.Arrival.Seq,
            Body = item.Body is { } body ? PackedState.Pack(body.Span) : null,
        }).ToList(), token);

    private const string PageSql = """
        SELECT seq, body FROM scratch_shelf WHERE machine = @Machine AND seq > @After ORDER BY seq LIMIT @Limit
        """;

    /// <summary>In the order of taking in, a page at a time.</summary>
    public static async Task<IReadOnlyList<(long Seq, byte[]? Body)>> PageAsync(
        DbConnection connection, string machine, long after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            PageSql, new { Machine = machine, After = after, Limit = limit }, cancellationToken: token));
        return [.. rows.Select(row => (row.Seq, row.Body is null ? null : PackedState.Unpack(row.Body)))];
    }

    private const string DeleteSql = "DELETE FROM scratch_shelf WHERE machine = @Machine";

    public static Task DeleteAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(DeleteSql, new { Machine = machine }, token);

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public long Seq { get; init; }

        public byte[]? Body { get; init; }
    }
}
