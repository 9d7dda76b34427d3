using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Retention;

/// <summary>What was dropped when, by whom and why, and the line that each machine goes on from since.</summary>
internal static class PruningTable
{
    private const int IdsAtOnce = 500;

    private const string InsertSql = """
        INSERT INTO pruning (id, at_utc, before_utc, files, size_bytes, reason, account, signatures)
        VALUES (@Id, @At_Utc, @Before_Utc, @Files, @Size_Bytes, @Reason, @Account, @Signatures)
        RETURNING seq
        """;

    /// <summary>The number by which lines and dropped bytes name it.</summary>
    public static Task<long> InsertAsync(DbTransaction transaction, PruneOrder order, CancellationToken token) =>
        transaction.Database().ExecuteScalarAsync<long>(new CommandDefinition(InsertSql, new
        {
            order.Id,
            At_Utc = UtcText.Of(order.AtUtc),
            Before_Utc = UtcText.Of(order.BeforeUtc),
            Files = order.Sha256s.Count,
            Size_Bytes = order.SizeBytes,
            order.Reason,
            order.Account,
            Signatures = PeopleText.Of(order.Signatures),
        }, transaction, cancellationToken: token));

    private const string InsertLineSql = """
        INSERT INTO pruned_line (pruning, machine, from_utc, floor_utc, arrivals, reads, state)
        VALUES (@Pruning, @Machine, @From_Utc, @Floor_Utc, @Arrivals, @Reads, @State)
        """;

    private const string ForgetSightingsSql =
        "DELETE FROM scratch_sighting WHERE machine = @Machine AND at_utc < @From_Utc";

    private const string ForgetStatesSql = "DELETE FROM scratch_kept WHERE machine = @Machine AND at_utc < @From_Utc";

    /// <summary>Writes a line, and lets go of the scratch before it.</summary>
    public static async Task InsertLineAsync(
        DbTransaction transaction, long pruning, PruneLine line, CancellationToken token)
    {
        var row = LineRow.From(pruning, line);
        await transaction.RunAsync(InsertLineSql, row, token);
        await transaction.RunAsync(ForgetSightingsSql, row, token);
        await transaction.RunAsync(ForgetStatesSql, row, token);
    }

    private const string AllSql = """
        SELECT id, at_utc, before_utc, files, size_bytes, reason, account, signatures FROM pruning ORDER BY seq
        """;

    /// <summary>Oldest first.</summary>
    public static async Task<IReadOnlyList<StoredPruning>> AllAsync(
        DbConnection connection, CancellationToken token) =>
        [.. (await connection.QueryAsync<Row>(new CommandDefinition(AllSql, cancellationToken: token)))
            .Select(row => row.ToPruning())];

    private const string LinesSql = """
        SELECT pruning, machine, from_utc, floor_utc, arrivals, reads, state FROM pruned_line
        WHERE machine = @Machine ORDER BY seq
        """;

    /// <summary>The lines of a machine, oldest first; the newest lies latest.</summary>
    public static async Task<IReadOnlyList<PruneLine>> LinesAsync(
        DbConnection connection, string machine, CancellationToken token) =>
        [.. (await connection.QueryAsync<LineRow>(new CommandDefinition(
            LinesSql, new { Machine = machine }, cancellationToken: token))).Select(row => row.ToLine())];

    private const string DroppedSql = """
        SELECT q.id, q.at_utc, q.before_utc, q.files, q.size_bytes, q.reason, q.account, q.signatures, d.sha256
        FROM dropped d JOIN pruning q ON q.seq = d.pruning
        JOIN blob b ON b.sha256 = d.sha256
        LEFT JOIN placed p ON p.seq = (SELECT MAX(n.seq) FROM placed n WHERE n.sha256 = b.sha256)
        WHERE d.sha256 IN @Sha256s AND d.segment = COALESCE(p.segment, b.segment)
            AND d.position = COALESCE(p.position, b.position)
        ORDER BY d.seq
        """;

    /// <summary>Which of some bytes are dropped now, and by which act.</summary>
    public static async Task<IReadOnlyDictionary<string, StoredPruning>> DroppedAsync(
        DbConnection connection, IEnumerable<string> sha256s, CancellationToken token)
    {
        var found = new Dictionary<string, StoredPruning>(StringComparer.Ordinal);
        foreach (var some in sha256s.Distinct(StringComparer.Ordinal).Chunk(IdsAtOnce))
            foreach (var row in await connection.QueryAsync<Row>(new CommandDefinition(
                DroppedSql, new { Sha256s = some }, cancellationToken: token)))
                found[row.Sha256] = row.ToPruning();
        return found;
    }

    private sealed class Row
    {
        public string Id { get; init; } = "";

        public string At_Utc { get; init; } = "";

        public string Before_Utc { get; init; } = "";

        public long Files { get; init; }

        public long Size_Bytes { get; init; }

        public string Reason { get; init; } = "";

        public string Account { get; init; } = "";

        public string Signatures { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public StoredPruning ToPruning() => new()
        {
            Id = Id,
            AtUtc = UtcText.Read(At_Utc),
            BeforeUtc = UtcText.Read(Before_Utc),
            Files = Files,
            SizeBytes = Size_Bytes,
            Reason = Reason,
            Account = Account,
            Signatures = PeopleText.Read<IReadOnlyList<PruneSignature>>(Signatures) ?? [],
        };
    }

    private sealed class LineRow
    {
        public long Pruning { get; init; }

        public string Machine { get; init; } = "";

        public string From_Utc { get; init; } = "";

        public string Floor_Utc { get; init; } = "";

        public long Arrivals { get; init; }

        public string Reads { get; init; } = "";

        public string State { get; init; } = "";

        public static LineRow From(long pruning, PruneLine line) => new()
        {
            Pruning = pruning,
            Machine = line.Machine,
            From_Utc = UtcText.Of(line.FromUtc),
            Floor_Utc = UtcText.Of(line.FloorUtc),
            Arrivals = line.Arrivals,
            Reads = line.Reads,
            State = line.StateSha256,
        };

        public PruneLine ToLine() => new()
        {
            Machine = Machine,
            FromUtc = UtcText.Read(From_Utc),
            FloorUtc = UtcText.Read(Floor_Utc),
            Arrivals = Arrivals,
            Reads = Reads,
            StateSha256 = State,
        };
    }
}
