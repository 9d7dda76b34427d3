using System.Data.Common;
using System.Text.Json;
using Dapper;
using SetupAudit.Setups;

namespace SetupAudit.Store.Tables;

/// <summary>Reviews of setups. Later ones supersede earlier ones; all stay.</summary>
internal static class ReviewTable
{
    private const string InsertSql = """
        INSERT INTO review (id, at_utc, machine, setup, opened_utc, body)
        SELECT @Id, @At_Utc, @Machine, @Setup, @Opened_Utc, @Body
        WHERE NOT EXISTS (SELECT 1 FROM review WHERE id = @Id)
        """;

    /// <summary>True where it was new.</summary>
    public static async Task<bool> InsertAsync(DbTransaction transaction, Review review, CancellationToken token) =>
        await transaction.RunAsync(InsertSql, new
        {
            review.Id,
            At_Utc = UtcText.Of(review.AtUtc),
            review.Machine,
            review.Setup,
            Opened_Utc = UtcText.Of(review.OpenedUtc),
            Body = PeopleText.Of(review),
        }, token) > 0;

    private const string AllSql = "SELECT body FROM review ORDER BY at_utc, id";

    public static async Task<IReadOnlyList<Review>> AllAsync(DbConnection connection, CancellationToken token) =>
        [.. (await connection.QueryAsync<string>(new CommandDefinition(AllSql, cancellationToken: token)))
            .Select(body => PeopleText.Read<Review>(body) ?? throw new JsonException("an empty review"))];
}
