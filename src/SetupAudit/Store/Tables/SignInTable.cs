using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Names and passwords that were given, rightly or wrongly.</summary>
internal static class SignInTable
{
    private const string InsertSql = """
        INSERT INTO sign_in (id, at_utc, person, outcome, purpose, account)
        SELECT @Id, @At_Utc, @Person, @Outcome, @Purpose, @Account
        WHERE NOT EXISTS (SELECT 1 FROM sign_in WHERE id = @Id)
        """;

    /// <summary>True where it was new.</summary>
    public static async Task<bool> InsertAsync(
        DbTransaction transaction, StoredSignIn given, CancellationToken token) =>
        await transaction.RunAsync(InsertSql, Row.From(given), token) > 0;

    private const string LatestSql = """
        SELECT id, at_utc, person, outcome, purpose, account FROM sign_in
        WHERE person = @Person ORDER BY seq DESC LIMIT @Limit
        """;

    /// <summary>A person's latest, the newest first.</summary>
    public static async Task<IReadOnlyList<StoredSignIn>> LatestAsync(
        DbConnection connection, string person, int limit, CancellationToken token) =>
        [.. (await connection.QueryAsync<Row>(new CommandDefinition(
            LatestSql, new { Person = person, Limit = limit }, cancellationToken: token)))
            .Select(row => row.ToSignIn())];

    private sealed class Row
    {
        public string Id { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string? Person { get; init; }

        public string Outcome { get; init; } = "";

        public string Purpose { get; init; } = "";

        public string Account { get; init; } = "";

        public static Row From(StoredSignIn given) => new()
        {
            Id = given.Id,
            At_Utc = UtcText.Of(given.AtUtc),
            Person = given.Person,
            Outcome = given.Outcome,
            Purpose = given.Purpose,
            Account = given.Account,
        };

        public StoredSignIn ToSignIn() => new(Id, UtcText.Read(At_Utc), Person, Outcome, Purpose, Account);
    }
}
