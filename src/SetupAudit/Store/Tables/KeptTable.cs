using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>
/// States of a machine's fold at boundaries, from which it goes on when something earlier comes late.
/// </summary>
internal static class KeptTable
{
    private const string PutSql = """
        INSERT INTO scratch_kept (machine, at_utc, source, file, sha256, line, state)
        VALUES (@Machine, @At_Utc, @Source, @File, @Sha256, @Line, @State)
        ON CONFLICT (machine, at_utc, source, file, sha256, line) DO UPDATE SET state = excluded.state
        """;

    public static Task PutAsync(DbTransaction transaction, string machine, SightingPosition position,
        ReadOnlyMemory<byte> state, CancellationToken token) =>
        transaction.RunAsync(PutSql, Row.From(machine, position, PackedState.Pack(state.Span)), token);

    private const string LatestSql = """
        SELECT machine, at_utc, source, file, sha256, line, state
        FROM scratch_kept
        WHERE machine = @Machine AND (at_utc, source, file, sha256, line) <= (@At_Utc, @Source, @File, @Sha256, @Line)
        ORDER BY at_utc DESC, source DESC, file DESC, sha256 DESC, line DESC LIMIT 1
        """;

    /// <summary>The latest at or before a position (null for the latest of all).</summary>
    public static async Task<KeptState?> LatestAsync(
        DbConnection connection, string machine, SightingPosition? atOrBefore, CancellationToken token)
    {
        var row = await connection.QueryFirstOrDefaultAsync<Row>(new CommandDefinition(
            LatestSql, Row.From(machine, atOrBefore, null), cancellationToken: token));
        return row?.State is null ? null : new KeptState(row.ToPosition(), PackedState.Unpack(row.State));
    }

    private const string ListSql = """
        SELECT machine, at_utc, source, file, sha256, line
        FROM scratch_kept WHERE machine = @Machine ORDER BY at_utc, source, file, sha256, line
        """;

    public static async Task<IReadOnlyList<SightingPosition>> PositionsAsync(
        DbConnection connection, string machine, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            ListSql, new { Machine = machine }, cancellationToken: token));
        return [.. rows.Select(row => row.ToPosition())];
    }

    private const string DeleteAfterSql = """
        DELETE FROM scratch_kept
        WHERE machine = @Machine AND (at_utc, source, file, sha256, line) > (@At_Utc, @Source, @File, @Sha256, @Line)
        """;

    public static Task DeleteAfterAsync(
        DbTransaction transaction, string machine, SightingPosition position, CancellationToken token) =>
        transaction.RunAsync(DeleteAfterSql, Row.From(machine, position, null), token);

    private const string DeleteSql = """
        DELETE FROM scratch_kept
        WHERE machine = @Machine AND (at_utc, source, file, sha256, line) = (@At_Utc, @Source, @File, @Sha256, @Line)
        """;

    public static Task DeleteAsync(DbTransaction transaction, string machine, IEnumerable<SightingPosition> positions,
        CancellationToken token) => transaction.RunAsync(
        DeleteSql, positions.Select(position => Row.From(machine, position, null)).ToList(), token);

    private const string DeleteAllSql = "DELETE FROM scratch_kept WHERE machine = @Machine";

    public static Task DeleteAllAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(DeleteAllSql, new { Machine = machine }, token);

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public long Source { get; init; }

        public string File { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public long Line { get; init; }

        public byte[]? State { get; init; }

        public static Row From(string machine, SightingPosition? position, byte[]? state) => new()
        {
            Machine = machine,
            At_Utc = position is null ? UtcText.Highest : UtcText.Of(position.AtUtc),
            Source = position?.Source ?? 0,
            File = position?.File ?? "",
            Sha256 = position?.Sha256 ?? "",
            Line = position?.Line ?? 0,
            State = state,
        };

        public SightingPosition ToPosition() => new(UtcText.Read(At_Utc), (int)Source, File, Sha256, (int)Line);
    }
}
