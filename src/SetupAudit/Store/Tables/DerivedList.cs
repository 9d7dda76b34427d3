using System.Data.Common;
using Dapper;

namespace SetupAudit.Store.Tables;

/// <summary>Reading what was derived, in the order of moment and id.</summary>
internal static class DerivedList
{
    private const string PageSql = """
        SELECT d.machine, d.kind, d.id, d.scope_utc, d.at_utc, d.setup, d.withdrawn, d.seq, b.recorded_utc,
            COALESCE(d.body, (SELECT p.body FROM derived p
                WHERE p.machine = d.machine AND p.kind = d.kind AND p.id = d.id AND p.body IS NOT NULL
                ORDER BY p.seq DESC LIMIT 1)) AS body
        FROM derived d JOIN batch b ON b.seq = d.batch
        WHERE d.kind = @Kind AND (d.at_utc, d.id, d.seq) > (@AfterUtc, @AfterId, @AfterSeq) AND d.at_utc <= @UntilUtc
            AND (@Machine IS NULL OR d.machine = @Machine)
            AND (@Withdrawn = 1 OR d.body IS NOT NULL)
            AND NOT EXISTS (SELECT 1 FROM derived n
                WHERE n.machine = d.machine AND n.kind = d.kind AND n.id = d.id AND n.seq > d.seq)
        ORDER BY d.at_utc, d.id, d.seq LIMIT @Limit
        """;

    /// <summary>The rows of a kind behind a place in the list, a page at a time.</summary>
    public static async Task<IReadOnlyList<(StoredDerived Row, long Seq)>> PageAsync(DbConnection connection,
        DerivedQuery query, (StoredDerived Row, long Seq)? after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            PageSql, Parameters(query, after, limit), cancellationToken: token));
        return [.. rows.Select(row => (row.ToStored(), row.Seq))];
    }

    private const string PageOfSetupSql = """
        SELECT d.machine, d.kind, d.id, d.scope_utc, d.at_utc, d.setup, d.withdrawn, d.seq, b.recorded_utc,
            COALESCE(d.body, (SELECT p.body FROM derived p
                WHERE p.machine = d.machine AND p.kind = d.kind AND p.id = d.id AND p.body IS NOT NULL
                ORDER BY p.seq DESC LIMIT 1)) AS body
        FROM derived d JOIN batch b ON b.seq = d.batch
        WHERE d.setup = @Setup AND d.kind = @Kind AND (d.at_utc, d.id, d.seq) > (@AfterUtc, @AfterId, @AfterSeq)
            AND d.at_utc <= @UntilUtc
            AND (@Machine IS NULL OR d.machine = @Machine)
            AND (@Withdrawn = 1 OR d.body IS NOT NULL)
            AND NOT EXISTS (SELECT 1 FROM derived n
                WHERE n.machine = d.machine AND n.kind = d.kind AND n.id = d.id AND n.seq > d.seq)
        ORDER BY d.at_utc, d.id, d.seq LIMIT @Limit
        """;

    /// <summary>As <see cref="PageAsync"/>, of one setup.</summary>
    public static async Task<IReadOnlyList<(StoredDerived Row, long Seq)>> PageOfSetupAsync(DbConnection connection,
        DerivedQuery query, (StoredDerived Row, long Seq)? after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            PageOfSetupSql, Parameters(query, after, limit), cancellationToken: token));
        return [.. rows.Select(row => (row.ToStored(), row.Seq))];
    }

    private const string BeginningSql = """
        SELECT d.machine, d.kind, d.id, d.scope_utc, d.at_utc, d.setup, d.withdrawn, d.seq, b.recorded_utc, d.body
        FROM derived d JOIN batch b ON b.seq = d.batch
        WHERE d.kind = @Kind AND d.id >= @First AND d.id < @Beyond AND d.body IS NOT NULL
            AND NOT EXISTS (SELECT 1 FROM derived n
                WHERE n.machine = d.machine AND n.kind = d.kind AND n.id = d.id AND n.seq > d.seq)
        ORDER BY d.id, d.machine LIMIT @Limit
        """;

    /// <summary>What holds whose id begins so, in the order of ids.</summary>
    public static async Task<IReadOnlyList<StoredDerived>> BeginningAsync(
        DbConnection connection, DerivedKind kind, string beginning, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(BeginningSql, new
        {
            Kind = KindText.Of(kind),
            First = beginning,
            // The highest code point there is: every text that begins so sorts before it.
            Beyond = beginning + "\U0010FFFF",
            Limit = limit,
        }, cancellationToken: token));
        return [.. rows.Select(row => row.ToStored())];
    }

    private static object Parameters(DerivedQuery query, (StoredDerived Row, long Seq)? after, int limit) => new
    {
        Kind = KindText.Of(query.Kind),
        query.Machine,
        query.Setup,
        AfterUtc = after is { } last ? UtcText.Of(last.Row.AtUtc) : UtcText.Of(query.SinceUtc) ?? UtcText.Lowest,
        AfterId = after?.Row.Id ?? "",
        AfterSeq = after?.Seq ?? 0,
        UntilUtc = UtcText.Of(query.UntilUtc) ?? UtcText.Highest,
        Withdrawn = query.Withdrawn ? 1 : 0,
        Limit = limit,
    };

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public string Kind { get; init; } = "";

        public string Id { get; init; } = "";

        public string Scope_Utc { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string? Setup { get; init; }

        public string? Withdrawn { get; init; }

        public long Seq { get; init; }

        public string Recorded_Utc { get; init; } = "";

        public string Body { get; init; } = "";

        public StoredDerived ToStored() => new()
        {
            Machine = Machine,
            Kind = KindText.Read(Kind),
            Id = Id,
            ScopeUtc = UtcText.Read(Scope_Utc),
            AtUtc = UtcText.Read(At_Utc),
            Setup = Setup,
            Body = Body,
            Withdrawn = Withdrawn,
            RecordedUtc = UtcText.Read(Recorded_Utc),
        };
    }
}
