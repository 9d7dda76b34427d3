using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>
/// Writing what was derived: each row is a new word about its machine, kind and id; the newest word holds.
/// </summary>
internal static class DerivedTable
{
    private const string BatchSql = "INSERT INTO batch (recorded_utc) VALUES (@RecordedUtc) RETURNING seq";

    public static Task<long> BeginBatchAsync(
        DbTransaction transaction, DateTimeOffset nowUtc, CancellationToken token) =>
        transaction.Database().ExecuteScalarAsync<long>(new CommandDefinition(
            BatchSql, new { RecordedUtc = UtcText.Of(nowUtc) }, transaction, cancellationToken: token));

    private const string InsertSql = """
        INSERT INTO derived (machine, kind, id, scope_utc, at_utc, setup, body, withdrawn, batch)
        VALUES (@Machine, @Kind, @Id, @Scope_Utc, @At_Utc, @Setup, @Body, @Withdrawn, @Batch)
        """;

    public static Task InsertAsync(
        DbTransaction transaction, long batch, IEnumerable<DerivedWord> words, CancellationToken token) =>
        transaction.RunAsync(InsertSql, words.Select(word => Row.From(word, batch)).ToList(), token);

    private const string NewestSql = """
        SELECT machine, kind, id, scope_utc, at_utc, setup, body, withdrawn, batch
        FROM derived WHERE machine = @Machine AND kind = @Kind AND id = @Id ORDER BY seq DESC LIMIT 1
        """;

    /// <summary>The newest word, which may be that it was withdrawn; null where nothing was ever said.</summary>
    public static async Task<DerivedWord?> NewestAsync(
        DbTransaction transaction, DerivedKey key, CancellationToken token) =>
        (await transaction.Database().QueryFirstOrDefaultAsync<Row>(new CommandDefinition(NewestSql,
            new { key.Machine, Kind = KindText.Of(key.Kind), key.Id }, transaction,
            cancellationToken: token)))?.ToWord();

    private const string NewestOfManySql = """
        SELECT machine, kind, id, scope_utc, at_utc, setup, body, withdrawn, batch
        FROM derived WHERE seq IN (
            SELECT MAX(seq) FROM derived WHERE machine = @Machine AND kind = @Kind AND id IN @Ids GROUP BY id)
        ORDER BY id
        """;

    /// <summary>The newest word of each of many ids of a machine and kind.</summary>
    public static async Task<IEnumerable<DerivedWord>> NewestAsync(DbTransaction transaction, string machine,
        DerivedKind kind, IReadOnlyCollection<string> ids, CancellationToken token)
    {
        var rows = await transaction.Database().QueryAsync<Row>(new CommandDefinition(NewestOfManySql,
            new { Machine = machine, Kind = KindText.Of(kind), Ids = ids }, transaction, cancellationToken: token));
        return rows.Select(row => row.ToWord());
    }

    private const string LastBodySql = """
        SELECT body FROM derived WHERE machine = @Machine AND kind = @Kind AND id = @Id AND body IS NOT NULL
        ORDER BY seq DESC LIMIT 1
        """;

    public static Task<string?> LastBodyAsync(DbTransaction transaction, DerivedKey key, CancellationToken token) =>
        transaction.Database().ExecuteScalarAsync<string?>(new CommandDefinition(LastBodySql,
            new { key.Machine, Kind = KindText.Of(key.Kind), key.Id }, transaction, cancellationToken: token));

    private const string HoldsSql = """
        SELECT d.machine, d.kind, d.id, d.scope_utc, d.at_utc, d.setup, d.body, d.withdrawn, d.batch
        FROM derived d
        WHERE d.machine = @Machine AND d.kind = @Kind AND d.scope_utc >= @From AND d.scope_utc < @Before
            AND d.body IS NOT NULL
            AND NOT EXISTS (SELECT 1 FROM derived n
                WHERE n.machine = d.machine AND n.kind = d.kind AND n.id = d.id AND n.seq > d.seq)
        ORDER BY d.id
        """;

    /// <summary>What holds now of a kind, of scopes from one moment on and before another (null for no end).</summary>
    public static async Task<IEnumerable<DerivedWord>> HoldsAsync(DbTransaction transaction, string machine,
        DerivedKind kind, DateTimeOffset fromUtc, DateTimeOffset? beforeUtc, CancellationToken token)
    {
        var rows = await transaction.Database().QueryAsync<Row>(new CommandDefinition(HoldsSql, new
        {
            Machine = machine,
            Kind = KindText.Of(kind),
            From = UtcText.Of(fromUtc),
            Before = UtcText.Of(beforeUtc) ?? UtcText.Highest,
        }, transaction, cancellationToken: token));
        return rows.Select(row => row.ToWord());
    }

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public string Kind { get; init; } = "";

        public string Id { get; init; } = "";

        public string Scope_Utc { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string? Setup { get; init; }

        public string? Body { get; init; }

        public string? Withdrawn { get; init; }

        public long Batch { get; init; }

        public static Row From(DerivedWord word, long batch) => new()
        {
            Machine = word.Key.Machine,
            Kind = KindText.Of(word.Key.Kind),
            Id = word.Key.Id,
            Scope_Utc = UtcText.Of(word.ScopeUtc),
            At_Utc = UtcText.Of(word.AtUtc),
            Setup = word.Setup,
            Body = word.Body,
            Withdrawn = word.Withdrawn,
            Batch = batch,
        };

        public DerivedWord ToWord() => new()
        {
            Key = new DerivedKey(Machine, KindText.Read(Kind), Id),
            ScopeUtc = UtcText.Read(Scope_Utc),
            AtUtc = UtcText.Read(At_Utc),
            Setup = Setup,
            Body = Body,
            Withdrawn = Withdrawn,
        };
    }
}
