using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Outbox;

/// <summary>What was said of each message on its way to each receiver, and the tries that have begun.</summary>
internal static class SendingTable
{
    private const string InsertSql = """
        INSERT INTO sending (at_utc, message, channel, receiver, try, outcome, reason, next_utc, configuration)
        VALUES (@At_Utc, @Message, @Channel, @Receiver, @Try, @Outcome, @Reason, @Next_Utc, @Configuration)
        """;

    public static Task InsertAsync(
        DbTransaction transaction, IEnumerable<StoredSending> sendings, CancellationToken token) =>
        transaction.RunAsync(InsertSql, sendings.Select(Row.From).ToList(), token);

    private const string NewestSql = """
        SELECT at_utc, message, channel, receiver, try, outcome, reason, next_utc, configuration
        FROM sending WHERE seq IN (SELECT MAX(seq) FROM sending GROUP BY message, channel, receiver)
        ORDER BY seq
        """;

    /// <summary>The newest word about every message and receiver.</summary>
    public static async Task<IReadOnlyList<StoredSending>> NewestAsync(DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(NewestSql, cancellationToken: token));
        return [.. rows.Select(row => row.ToSending())];
    }

    private const string OfMessagesSql = """
        SELECT at_utc, message, channel, receiver, try, outcome, reason, next_utc, configuration
        FROM sending WHERE message IN @Messages ORDER BY message, channel, receiver, seq
        """;

    /// <summary>Every word about these messages, receiver by receiver, oldest first.</summary>
    public static async Task<IReadOnlyList<StoredSending>> OfMessagesAsync(
        DbConnection connection, IReadOnlyCollection<string> messages, CancellationToken token)
    {
        var sendings = new List<StoredSending>();
        foreach (var some in messages.Chunk(500))
        {
            var rows = await connection.QueryAsync<Row>(
                new CommandDefinition(OfMessagesSql, new { Messages = some }, cancellationToken: token));
            sendings.AddRange(rows.Select(row => row.ToSending()));
        }
        return sendings;
    }

    private const string LeaseSql = """
        INSERT INTO scratch_lease (message, channel, receiver, at_utc)
        VALUES (@Message, @Channel, @Receiver, @AtUtc)
        ON CONFLICT (message, channel, receiver) DO UPDATE SET at_utc = excluded.at_utc
        """;

    /// <summary>Notes that a try begins.</summary>
    public static Task LeaseAsync(
        DbTransaction transaction, StoredSending sending, DateTimeOffset nowUtc, CancellationToken token) =>
        transaction.RunAsync(LeaseSql,
            new { sending.Message, sending.Channel, sending.Receiver, AtUtc = UtcText.Of(nowUtc) }, token);

    private const string ReleaseSql = """
        DELETE FROM scratch_lease WHERE message = @Message AND channel = @Channel AND receiver = @Receiver
        """;

    public static Task ReleaseAsync(DbTransaction transaction, StoredSending sending, CancellationToken token) =>
        transaction.RunAsync(ReleaseSql, new { sending.Message, sending.Channel, sending.Receiver }, token);

    private const string LeasedSql = """
        SELECT message, channel, receiver, at_utc FROM scratch_lease ORDER BY message, channel, receiver
        """;

    /// <summary>Tries that had begun and of which nothing was said, by message, channel and receiver.</summary>
    public static async Task<IReadOnlyDictionary<(string, string, string), DateTimeOffset>> LeasedAsync(
        DbConnection connection, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(LeasedSql, cancellationToken: token));
        return rows.ToDictionary(row => (row.Message, row.Channel, row.Receiver), row => UtcText.Read(row.At_Utc));
    }

    private sealed class Row
    {
        public string At_Utc { get; init; } = "";

        public string Message { get; init; } = "";

        public string Channel { get; init; } = "";

        public string Receiver { get; init; } = "";

        public long Try { get; init; }

        public string Outcome { get; init; } = "";

        public string Reason { get; init; } = "";

        public string? Next_Utc { get; init; }

        public string Configuration { get; init; } = "";

        public static Row From(StoredSending sending) => new()
        {
            At_Utc = UtcText.Of(sending.AtUtc),
            Message = sending.Message,
            Channel = sending.Channel,
            Receiver = sending.Receiver,
            Try = sending.Try,
            Outcome = WordText.Of(sending.Outcome),
            Reason = sending.Reason,
            Next_Utc = UtcText.Of(sending.NextUtc),
            Configuration = sending.Configuration,
        };

        public StoredSending ToSending() => new()
        {
            AtUtc = UtcText.Read(At_Utc),
            Message = Message,
            Channel = Channel,
            Receiver = Receiver,
            Try = (int)Try,
            Outcome = WordText.Read<SendingOutcome>(Outcome),
            Reason = Reason,
            NextUtc = UtcText.ReadNullable(Next_Utc),
            Configuration = Configuration,
        };
    }
}
