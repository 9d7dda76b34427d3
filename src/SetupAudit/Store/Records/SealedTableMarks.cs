using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>Up to which key each lasting table is sealed.</summary>
internal static class SealedTableMarks
{
    private const string AllSql = "SELECT name, up_to FROM scratch_sealed ORDER BY name";

    public static async Task<Dictionary<string, long>> AllAsync(DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(AllSql, cancellationToken: token));
        return rows.ToDictionary(row => row.Name, row => row.Up_To, StringComparer.Ordinal);
    }

    private const string PutSql = """
        INSERT INTO scratch_sealed (name, up_to) VALUES (@Name, @UpTo)
        ON CONFLICT (name) DO UPDATE SET up_to = excluded.up_to
        """;

    public static Task PutAsync(DbTransaction transaction, string name, long upTo, CancellationToken token) =>
        transaction.RunAsync(PutSql, new { Name = name, UpTo = upTo }, token);

    private sealed class Row
    {
        public string Name { get; init; } = "";

        public long Up_To { get; init; }
    }
}
