using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Arrivals that were taken in and not read yet.</summary>
internal static class UnreadTable
{
    private const string AddSql = """
        INSERT INTO scratch_unread (machine, seq) SELECT machine, seq FROM arrival WHERE id = @Id
        """;

    public static Task AddAsync(DbTransaction transaction, IEnumerable<string> ids, CancellationToken token) =>
        transaction.RunAsync(AddSql, ids.Select(id => new { Id = id }).ToList(), token);

    private const string AddAllSql = """
        INSERT INTO scratch_unread (machine, seq) SELECT machine, seq FROM arrival a
        WHERE machine = @Machine AND seq NOT IN (SELECT seq FROM scratch_unread WHERE machine = @Machine)
            AND NOT EXISTS (SELECT 1 FROM dropped d JOIN blob b ON b.sha256 = d.sha256
                LEFT JOIN placed p ON p.seq = (SELECT MAX(n.seq) FROM placed n WHERE n.sha256 = b.sha256)
                WHERE d.sha256 = a.blob AND d.segment = COALESCE(p.segment, b.segment)
                    AND d.position = COALESCE(p.position, b.position))
        """;

    /// <summary>All of a machine but those whose bytes were dropped: what was recorded of them stands.</summary>
    public static Task AddAllAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(AddAllSql, new { Machine = machine }, token);

    private const string BacklogSql =
        "SELECT machine, COUNT(*) AS waiting FROM scratch_unread GROUP BY machine ORDER BY machine";

    /// <summary>How many of each machine wait.</summary>
    public static async Task<IReadOnlyDictionary<string, long>> BacklogAsync(
        DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(BacklogSql, cancellationToken: token));
        return rows.ToDictionary(row => row.Machine, row => row.Waiting, StringComparer.Ordinal);
    }

    private const string DeleteSql = "DELETE FROM scratch_unread WHERE machine = @Machine AND seq = @Seq";

    public static Task DeleteAsync(
        DbTransaction transaction, string machine, IEnumerable<long> seqs, CancellationToken token) =>
        transaction.RunAsync(DeleteSql, seqs.Select(seq => new { Machine = machine, Seq = seq }).ToList(), token);

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public long Waiting { get; init; }
    }
}
