using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Outbox;

/// <summary>Which findings each reminder told again.</summary>
internal static class RemindedTable
{
    private const string InsertSql = """
        INSERT INTO reminded (at_utc, message, machine, finding, listed)
        VALUES (@At_Utc, @Message, @Machine, @Finding, @Listed)
        """;

    public static Task InsertAsync(
        DbTransaction transaction, IEnumerable<RemindedAlert> reminded, CancellationToken token) =>
        transaction.RunAsync(InsertSql, reminded.Select(Row.From).ToList(), token);

    private const string AllSql = """
        SELECT at_utc, message, machine, finding, listed FROM reminded ORDER BY seq
        """;

    /// <summary>All of them, oldest first.</summary>
    public static async Task<IReadOnlyList<RemindedAlert>> AllAsync(DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(AllSql, cancellationToken: token));
        return [.. rows.Select(row => row.ToReminded())];
    }

    private const string OfFindingsSql = """
        SELECT at_utc, message, machine, finding, listed FROM reminded WHERE finding IN @Findings ORDER BY seq
        """;

    /// <summary>Those of these findings, oldest first.</summary>
    public static async Task<IReadOnlyList<RemindedAlert>> OfFindingsAsync(
        DbConnection connection, IReadOnlyCollection<string> findings, CancellationToken token)
    {
        var reminded = new List<RemindedAlert>();
        foreach (var some in findings.Chunk(500))
        {
            var rows = await connection.QueryAsync<Row>(
                new CommandDefinition(OfFindingsSql, new { Findings = some }, cancellationToken: token));
            reminded.AddRange(rows.Select(row => row.ToReminded()));
        }
        return reminded;
    }

    private sealed class Row
    {
        public string At_Utc { get; init; } = "";

        public string Message { get; init; } = "";

        public string Machine { get; init; } = "";

        public string Finding { get; init; } = "";

        public long Listed { get; init; }

        public static Row From(RemindedAlert reminded) => new()
        {
            At_Utc = UtcText.Of(reminded.AtUtc),
            Message = reminded.Message,
            Machine = reminded.Machine,
            Finding = reminded.Finding,
            Listed = reminded.Listed ? 1 : 0,
        };

        public RemindedAlert ToReminded() => new(Machine, Finding, Message, UtcText.Read(At_Utc), Listed == 1);
    }
}
