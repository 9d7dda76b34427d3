using System.Data.Common;
using Dapper;
using SetupAudit.Shop;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Outbox;

/// <summary>Messages as they were put up, and which alerts each tells.</summary>
internal static class MessageTable
{
    private const string InsertSql = """
        INSERT INTO message (id, at_utc, kind, thread, machine, setup, severity, body)
        VALUES (@Id, @At_Utc, @Kind, @Thread, @Machine, @Setup, @Severity, @Body)
        """;

    public static Task InsertAsync(
        DbTransaction transaction, IEnumerable<StoredMessage> messages, CancellationToken token) =>
        transaction.RunAsync(InsertSql, messages.Select(Row.From).ToList(), token);

    private const string ToldSql = """
        INSERT INTO told (at_utc, alert, message, listed, why_not)
        VALUES (@AtUtc, @Alert, @Message, @Listed, @WhyNot)
        """;

    public static Task TellAsync(DbTransaction transaction, IEnumerable<ToldAlert> told, DateTimeOffset nowUtc,
        CancellationToken token) => transaction.RunAsync(ToldSql, told.Select(one => new
        {
            AtUtc = UtcText.Of(nowUtc),
            one.Alert,
            one.Message,
            Listed = one.Listed ? 1 : 0,
            one.WhyNot,
        }).ToList(), token);

    private const string OfIdsSql = """
        SELECT id, at_utc, kind, thread, machine, setup, severity, body FROM message WHERE id IN @Ids ORDER BY seq
        """;

    /// <summary>These messages, in the order in which they were put up.</summary>
    public static async Task<IReadOnlyList<StoredMessage>> OfIdsAsync(
        DbConnection connection, IReadOnlyCollection<string> ids, CancellationToken token)
    {
        var messages = new List<StoredMessage>();
        foreach (var some in ids.Chunk(500))
        {
            var rows = await connection.QueryAsync<Row>(
                new CommandDefinition(OfIdsSql, new { Ids = some }, cancellationToken: token));
            messages.AddRange(rows.Select(row => row.ToMessage()));
        }
        return messages;
    }

    private const string StandingSql = """
        SELECT a.machine, a.finding, a.setup, a.rule, a.severity, a.held_utc, a.step, m.at_utc AS told_utc
        FROM alert a JOIN told t ON t.alert = a.seq JOIN message m ON m.id = t.message
        WHERE NOT EXISTS (SELECT 1 FROM alert n JOIN told u ON u.alert = n.seq
            WHERE n.machine = a.machine AND n.finding = a.finding AND n.seq > a.seq AND u.message IS NOT NULL)
        ORDER BY a.seq
        """;

    /// <summary>What was last told of each finding of which anything was.</summary>
    public static async Task<IReadOnlyList<StandingAlert>> StandingAsync(
        DbConnection connection, CancellationToken token)
    {
        var standing = new CommandDefinition(StandingSql, cancellationToken: token);
        var rows = await connection.QueryAsync<StandingRow>(standing);
        return [.. rows.Select(row => row.ToStanding())];
    }

    private const string ToldOfSql = """
        SELECT alert, message, listed, why_not FROM told WHERE alert IN @Alerts ORDER BY alert
        """;

    /// <summary>What became of these alerts.</summary>
    public static async Task<IReadOnlyList<ToldAlert>> ToldAsync(
        DbConnection connection, IReadOnlyCollection<long> alerts, CancellationToken token)
    {
        var told = new List<ToldAlert>();
        foreach (var some in alerts.Chunk(500))
        {
            var rows = await connection.QueryAsync<ToldRow>(
                new CommandDefinition(ToldOfSql, new { Alerts = some }, cancellationToken: token));
            told.AddRange(rows.Select(row => new ToldAlert(row.Alert, row.Message, row.Listed == 1, row.Why_Not)));
        }
        return told;
    }

    private const string RecentSql = """
        SELECT id, at_utc, kind, thread, machine, setup, severity, '' AS body
        FROM message WHERE at_utc >= @SinceUtc ORDER BY seq
        """;

    /// <summary>The messages put up since a moment, without their bodies.</summary>
    public static async Task<IReadOnlyList<StoredMessage>> SinceAsync(
        DbConnection connection, DateTimeOffset sinceUtc, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            RecentSql, new { SinceUtc = UtcText.Of(sinceUtc) }, cancellationToken: token));
        return [.. rows.Select(row => row.ToMessage())];
    }

    private sealed class ToldRow
    {
        public long Alert { get; init; }

        public string? Message { get; init; }

        public long Listed { get; init; }

        public string? Why_Not { get; init; }
    }

    private sealed class StandingRow
    {
        public string Machine { get; init; } = "";

        public string Finding { get; init; } = "";

        public string? Setup { get; init; }

        public string Rule { get; init; } = "";

        public string Severity { get; init; } = "";

        public string Held_Utc { get; init; } = "";

        public string Step { get; init; } = "";

        public string Told_Utc { get; init; } = "";

        public StandingAlert ToStanding() => new()
        {
            Machine = Machine,
            Finding = Finding,
            Setup = Setup,
            Rule = Rule,
            Severity = WordText.Read<Severity>(Severity),
            HeldUtc = UtcText.Read(Held_Utc),
            Step = WordText.Read<AlertStep>(Step),
            ToldUtc = UtcText.Read(Told_Utc),
        };
    }

    private sealed class Row
    {
        public string Id { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string Kind { get; init; } = "";

        public string Thread { get; init; } = "";

        public string Machine { get; init; } = "";

        public string? Setup { get; init; }

        public string Severity { get; init; } = "";

        public string Body { get; init; } = "";

        public static Row From(StoredMessage message) => new()
        {
            Id = message.Id,
            At_Utc = UtcText.Of(message.AtUtc),
            Kind = message.Kind,
            Thread = message.Thread,
            Machine = message.Machine,
            Setup = message.Setup,
            Severity = WordText.Of(message.Severity),
            Body = message.Body,
        };

        public StoredMessage ToMessage() => new()
        {
            Id = Id,
            AtUtc = UtcText.Read(At_Utc),
            Kind = Kind,
            Thread = Thread,
            Machine = Machine,
            Setup = Setup,
            Severity = WordText.Read<Severity>(Severity),
            Body = Body,
        };
    }
}
