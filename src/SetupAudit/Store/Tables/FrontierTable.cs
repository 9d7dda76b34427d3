using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>
/// The hashes from which the record's tree grows on: made from the entries, and compared with the last checkpoint at
/// every start.
/// </summary>
internal static class FrontierTable
{
    private const string PutSql = """
        INSERT INTO scratch_frontier (one, range) VALUES (1, @Range)
        ON CONFLICT (one) DO UPDATE SET range = excluded.range
        """;

    public static Task PutAsync(DbTransaction transaction, byte[] range, CancellationToken token) =>
        transaction.RunAsync(PutSql, new { Range = range }, token);

    private const string GetSql = "SELECT range FROM scratch_frontier WHERE one = 1";

    public static async Task<byte[]?> GetAsync(DbConnection connection, CancellationToken token) =>
        await connection.ExecuteScalarAsync<byte[]?>(new CommandDefinition(GetSql, cancellationToken: token));
}
