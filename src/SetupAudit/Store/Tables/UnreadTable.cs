using System.Data.Common;

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
        INSERT INTO scratch_unread (machine, seq) SELECT machine, seq FROM arrival
        WHERE machine = @Machine AND seq NOT IN (SELECT seq FROM scratch_unread WHERE machine = @Machine)
        """;

    public static Task AddAllAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(AddAllSql, new { Machine = machine }, token);

    private const string DeleteSql = "DELETE FROM scratch_unread WHERE machine = @Machine AND seq = @Seq";

    public static Task DeleteAsync(
        DbTransaction transaction, string machine, IEnumerable<long> seqs, CancellationToken token) =>
        transaction.RunAsync(DeleteSql, seqs.Select(seq => new { Machine = machine, Seq = seq }).ToList(), token);
}
