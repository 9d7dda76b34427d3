using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>How far each watched file has been taken in.</summary>
internal static class PositionTable
{
    private const string PutSql = """
        INSERT INTO scratch_position (machine, source, name, state) VALUES (@Machine, @Source, @Name, @State)
        ON CONFLICT (machine, source, name) DO UPDATE SET state = excluded.state
        """;

    public static Task PutAsync(
        DbTransaction transaction, IEnumerable<SourcePosition> positions, CancellationToken token) =>
        transaction.RunAsync(PutSql, positions.ToList(), token);

    private const string DeleteSql = """
        DELETE FROM scratch_position WHERE machine = @Machine AND source = @Source AND name = @Name
        """;

    public static Task DeleteAsync(
        DbTransaction transaction, IEnumerable<SourcePosition> positions, CancellationToken token) =>
        transaction.RunAsync(DeleteSql, positions.ToList(), token);

    private const string ListSql = """
        SELECT machine, source, name, state FROM scratch_position
        WHERE machine = @Machine AND source = @Source ORDER BY name
        """;

    public static async Task<IReadOnlyList<SourcePosition>> ListAsync(
        DbConnection connection, string machine, string source, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            ListSql, new { Machine = machine, Source = source }, cancellationToken: token));
        return [.. rows.Select(row => new SourcePosition(row.Machine, row.Source, row.Name, row.State))];
    }

    private const string DeleteAllSql = "DELETE FROM scratch_position WHERE machine = @Machine";

    public static Task DeleteAllAsync(DbTransaction transaction, string machine, CancellationToken token) =>
        transaction.RunAsync(DeleteAllSql, new { Machine = machine }, token);

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public string Source { get; init; } = "";

        public string Name { get; init; } = "";

        public string State { get; init; } = "";
    }
}
