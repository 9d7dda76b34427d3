using System.Data.Common;
using Dapper;
using SetupAudit.Shop;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Outbox;

/// <summary>Each change of a finding that alerts looked at.</summary>
internal static class AlertTable
{
    /// <summary>
    /// Keeps what alerts make of recorded differences, in their transaction. Returns what is to be told.
    /// </summary>
    public static async Task<IReadOnlyList<StoredAlert>> LookAsync(DbTransaction transaction, DerivedBatch batch,
        IReadOnlyList<DerivedChange> changes, AlertLook look, DateTimeOffset nowUtc, CancellationToken token)
    {
        var kept = new List<StoredAlert>();
        foreach (var change in changes.Where(change => change.Kind == DerivedKind.Finding))
        {
            var alert = change.Step == DerivedStep.Withdrawn
                ? await EndedAsync(transaction, batch, change.Id, nowUtc, token)
                : look(batch.Machine, change, nowUtc);
            if (alert is not null) kept.Add(alert);
        }
        await transaction.RunAsync(InsertSql, kept.Select(Row.From).ToList(), token);
        return [.. kept.Where(alert => alert.WhyNot is null)];
    }

    private static async Task<StoredAlert?> EndedAsync(DbTransaction transaction, DerivedBatch batch, string finding,
        DateTimeOffset nowUtc, CancellationToken token)
    {
        if (await NewestAsync(transaction, batch.Machine, finding, token) is not { } last) return null;
        if (last.Step == AlertStep.Withdrawn) return null;
        return last with
        {
            Seq = 0,
            AtUtc = nowUtc,
            Step = AlertStep.Withdrawn,
            Because = batch.WithdrawnBecause,
            WhyNot = last.WhyNot is null ? null : "nothing was sent that this would clear",
        };
    }

    private const string InsertSql = """
        INSERT INTO alert (at_utc, machine, finding, setup, rule, severity, held_utc, step, because, why_not)
        VALUES (@At_Utc, @Machine, @Finding, @Setup, @Rule, @Severity, @Held_Utc, @Step, @Because, @Why_Not)
        """;

    private const string NewestSql = """
        SELECT seq, at_utc, machine, finding, setup, rule, severity, held_utc, step, because, why_not
        FROM alert WHERE machine = @Machine AND finding = @Finding ORDER BY seq DESC LIMIT 1
        """;

    private static async Task<StoredAlert?> NewestAsync(
        DbTransaction transaction, string machine, string finding, CancellationToken token) =>
        (await transaction.Database().QueryFirstOrDefaultAsync<Row>(new CommandDefinition(NewestSql,
            new { Machine = machine, Finding = finding }, transaction, cancellationToken: token)))?.ToAlert();

    private const string PendingSql = """
        SELECT a.seq, a.at_utc, a.machine, a.finding, a.setup, a.rule, a.severity, a.held_utc, a.step, a.because,
            a.why_not
        FROM alert a
        WHERE a.seq > @After AND a.why_not IS NULL AND NOT EXISTS (SELECT 1 FROM told t WHERE t.alert = a.seq)
        ORDER BY a.seq
        """;

    /// <summary>What is to be told and is not yet, behind a place in the record.</summary>
    public static async Task<IReadOnlyList<StoredAlert>> PendingAsync(
        DbConnection connection, long after, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(
            new CommandDefinition(PendingSql, new { After = after }, cancellationToken: token));
        return [.. rows.Select(row => row.ToAlert())];
    }

    private const string OfFindingsSql = """
        SELECT seq, at_utc, machine, finding, setup, rule, severity, held_utc, step, because, why_not
        FROM alert
        WHERE held_utc >= @Since AND held_utc <= @Until AND (@Machine IS NULL OR machine = @Machine)
            AND (held_utc, finding, seq) > (@AfterHeld, @AfterFinding, @AfterSeq)
        ORDER BY held_utc, finding, seq LIMIT @Limit
        """;

    /// <summary>A page of all that was looked at, by the moments of the findings.</summary>
    public static Task<IReadOnlyList<StoredAlert>> PageAsync(DbConnection connection, DerivedQuery query,
        StoredAlert? after, int limit, CancellationToken token) =>
        PageAsync(connection, OfFindingsSql, query, after, limit, token);

    private static async Task<IReadOnlyList<StoredAlert>> PageAsync(DbConnection connection, string sql,
        DerivedQuery query, StoredAlert? after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(sql, new
        {
            query.Machine,
            Since = UtcText.Of(query.SinceUtc) ?? UtcText.Lowest,
            Until = UtcText.Of(query.UntilUtc) ?? UtcText.Highest,
            AfterHeld = UtcText.Of(after?.HeldUtc) ?? UtcText.Lowest,
            AfterFinding = after?.Finding ?? "",
            AfterSeq = after?.Seq ?? 0,
            Limit = limit,
        }, cancellationToken: token));
        return [.. rows.Select(row => row.ToAlert())];
    }

    private const string NewestOfFindingsSql = """
        SELECT a.seq, a.at_utc, a.machine, a.finding, a.setup, a.rule, a.severity, a.held_utc, a.step, a.because,
            a.why_not
        FROM alert a
        WHERE a.held_utc >= @Since AND a.held_utc <= @Until AND (@Machine IS NULL OR a.machine = @Machine)
            AND (a.held_utc, a.finding, a.seq) > (@AfterHeld, @AfterFinding, @AfterSeq)
            AND NOT EXISTS (
                SELECT 1 FROM alert n WHERE n.machine = a.machine AND n.finding = a.finding AND n.seq > a.seq)
        ORDER BY a.held_utc, a.finding, a.seq LIMIT @Limit
        """;

    /// <summary>A page of what was looked at last of each finding, by the moments of the findings.</summary>
    public static Task<IReadOnlyList<StoredAlert>> NewestPageAsync(DbConnection connection, DerivedQuery query,
        StoredAlert? after, int limit, CancellationToken token) =>
        PageAsync(connection, NewestOfFindingsSql, query, after, limit, token);

    private const string WordsSql = """
        SELECT seq, at_utc, machine, finding, setup, rule, severity, held_utc, step, because, why_not
        FROM alert WHERE finding IN @Findings ORDER BY seq
        """;

    /// <summary>All that was looked at of these findings, oldest first.</summary>
    public static async Task<IReadOnlyList<StoredAlert>> WordsAsync(
        DbConnection connection, IReadOnlyCollection<string> findings, CancellationToken token)
    {
        var words = new List<StoredAlert>();
        foreach (var some in findings.Chunk(500))
        {
            var rows = await connection.QueryAsync<Row>(
                new CommandDefinition(WordsSql, new { Findings = some }, cancellationToken: token));
            words.AddRange(rows.Select(row => row.ToAlert()));
        }
        return words;
    }

    private const string NewEvidenceSql = """
        SELECT DISTINCT a.sha256 FROM arrival a
        WHERE a.machine IN (@Machine, '') AND a.received_utc > @SinceUtc
            AND NOT EXISTS (SELECT 1 FROM arrival b WHERE b.sha256 = a.sha256 AND b.received_utc <= @SinceUtc)
        ORDER BY a.sha256
        """;

    private const string LastLookSql = "SELECT MAX(recorded_utc) FROM horizon WHERE machine = @Machine";

    /// <summary>SHA-256 of bytes that came, to a machine or as a sheet, after the machine was last derived.</summary>
    public static async Task<IReadOnlySet<string>> NewEvidenceAsync(
        DbConnection connection, string machine, CancellationToken token)
    {
        var since = await connection.ExecuteScalarAsync<string?>(
            new CommandDefinition(LastLookSql, new { Machine = machine }, cancellationToken: token));
        var hashes = await connection.QueryAsync<string>(new CommandDefinition(NewEvidenceSql,
            new { Machine = machine, SinceUtc = since ?? UtcText.Highest }, cancellationToken: token));
        return hashes.ToHashSet(StringComparer.Ordinal);
    }

    private sealed class Row
    {
        public long Seq { get; init; }

        public string At_Utc { get; init; } = "";

        public string Machine { get; init; } = "";

        public string Finding { get; init; } = "";

        public string? Setup { get; init; }

        public string Rule { get; init; } = "";

        public string Severity { get; init; } = "";

        public string Held_Utc { get; init; } = "";

        public string Step { get; init; } = "";

        public string? Because { get; init; }

        public string? Why_Not { get; init; }

        public static Row From(StoredAlert alert) => new()
        {
            At_Utc = UtcText.Of(alert.AtUtc),
            Machine = alert.Machine,
            Finding = alert.Finding,
            Setup = alert.Setup,
            Rule = alert.Rule,
            Severity = WordText.Of(alert.Severity),
            Held_Utc = UtcText.Of(alert.HeldUtc),
            Step = WordText.Of(alert.Step),
            Because = alert.Because,
            Why_Not = alert.WhyNot,
        };

        public StoredAlert ToAlert() => new()
        {
            Seq = Seq,
            AtUtc = UtcText.Read(At_Utc),
            Machine = Machine,
            Finding = Finding,
            Setup = Setup,
            Rule = Rule,
            Severity = WordText.Read<Severity>(Severity),
            HeldUtc = UtcText.Read(Held_Utc),
            Step = WordText.Read<AlertStep>(Step),
            Because = Because,
            WhyNot = Why_Not,
        };
    }
}
