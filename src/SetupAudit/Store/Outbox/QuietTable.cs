using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Outbox;

/// <summary>Times for which a person asked for quiet.</summary>
internal static class QuietTable
{
    private const string InsertSql = """
        INSERT INTO quiet (id, at_utc, machine, until_utc, by_name, reason, cancels)
        SELECT @Id, @At_Utc, @Machine, @Until_Utc, @By_Name, @Reason, @Cancels
        WHERE NOT EXISTS (SELECT 1 FROM quiet WHERE id = @Id)
        """;

    /// <summary>False where it is kept already.</summary>
    public static async Task<bool> InsertAsync(DbTransaction transaction, StoredQuiet quiet, CancellationToken token) =>
        await transaction.RunAsync(InsertSql, new Row
        {
            Id = quiet.Id,
            At_Utc = UtcText.Of(quiet.AtUtc),
            Machine = quiet.Machine,
            Until_Utc = UtcText.Of(quiet.UntilUtc),
            By_Name = quiet.By,
            Reason = quiet.Reason,
            Cancels = quiet.Cancels,
        }, token) > 0;

    private const string AllSql = """
        SELECT id, at_utc, machine, until_utc, by_name, reason, cancels FROM quiet ORDER BY seq
        """;

    public static async Task<IReadOnlyList<StoredQuiet>> AllAsync(DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(AllSql, cancellationToken: token));
        return [.. rows.Select(row => new StoredQuiet
        {
            Id = row.Id,
            AtUtc = UtcText.Read(row.At_Utc),
            Machine = row.Machine,
            UntilUtc = UtcText.Read(row.Until_Utc),
            By = row.By_Name,
            Reason = row.Reason,
            Cancels = row.Cancels,
        })];
    }

    private sealed class Row
    {
        public string Id { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string Machine { get; init; } = "";

        public string Until_Utc { get; init; } = "";

        public string By_Name { get; init; } = "";

        public string Reason { get; init; } = "";

        public string? Cancels { get; init; }
    }
}
