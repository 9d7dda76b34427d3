using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Up to when each machine's sources are known to have been read. It only grows.</summary>
internal static class HorizonTable
{
    private const string LatestSql = "SELECT MAX(at_utc) FROM horizon WHERE machine = @Machine";

    public static async Task<DateTimeOffset?> LatestAsync(
        DbConnection connection, string machine, CancellationToken token, DbTransaction? transaction = null) =>
        UtcText.ReadNullable(await connection.ExecuteScalarAsync<string?>(new CommandDefinition(
            LatestSql, new { Machine = machine }, transaction, cancellationToken: token)));

    private const string InsertSql = """
        INSERT INTO horizon (machine, at_utc, recorded_utc)
        SELECT @Machine, @AtUtc, @RecordedUtc
        WHERE NOT EXISTS (SELECT 1 FROM horizon WHERE machine = @Machine AND at_utc >= @AtUtc)
        """;

    /// <summary>True where it grew; an earlier horizon than the last is no error and changes nothing.</summary>
    public static async Task<bool> GrowAsync(DbTransaction transaction, string machine, DateTimeOffset atUtc,
        DateTimeOffset nowUtc, CancellationToken token) =>
        await transaction.RunAsync(InsertSql,
            new { Machine = machine, AtUtc = UtcText.Of(atUtc), RecordedUtc = UtcText.Of(nowUtc) }, token) > 0;
}
