using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Which sources were left out of what was derived. The last row of a source holds.</summary>
internal static class GapTable
{
    private const string OpenSql = """
        SELECT source, read_until_utc FROM source_gap AS gap
        WHERE machine = @Machine AND over = 0 AND NOT EXISTS (
            SELECT 1 FROM source_gap AS later
            WHERE later.machine = gap.machine AND later.source = gap.source AND later.seq > gap.seq)
        ORDER BY source
        """;

    /// <summary>Those that are left out now, by index.</summary>
    public static async Task<IReadOnlyList<SourceGap>> OpenAsync(
        DbConnection connection, string machine, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            OpenSql, new { Machine = machine }, cancellationToken: token));
        return [.. rows.Select(row => new SourceGap((int)row.Source, UtcText.Read(row.Read_Until_Utc)))];
    }

    private const string InsertSql = """
        INSERT INTO source_gap (machine, source, read_until_utc, over, recorded_utc)
        VALUES (@Machine, @Source, @ReadUntilUtc, @Over, @RecordedUtc)
        """;

    public static Task AddAsync(DbTransaction transaction, string machine, SourceGap gap, bool isOver,
        DateTimeOffset nowUtc, CancellationToken token) => transaction.RunAsync(InsertSql, new
        {
            Machine = machine,
            gap.Source,
            ReadUntilUtc = UtcText.Of(gap.ReadUntilUtc),
            Over = isOver ? 1 : 0,
            RecordedUtc = UtcText.Of(nowUtc),
        }, token);

    private sealed class Row
    {
        public long Source { get; init; }

        public string Read_Until_Utc { get; init; } = "";
    }
}
