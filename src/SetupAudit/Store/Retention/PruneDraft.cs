using Dapper;
using Microsoft.Data.Sqlite;
using SetupAudit.Evidence;

namespace SetupAudit.Store.Retention;

/// <summary>
/// What may go and what has to stay, weighed in a database of its own that lies in the temporary folder and goes with
/// it: a store of years has more arrivals than memory should hold.
/// </summary>
public sealed class PruneDraft : IAsyncDisposable
{
    private const int AtOnce = 500;

    private readonly SqliteConnection _scratch;

    private PruneDraft(SqliteConnection scratch) => _scratch = scratch;

    // Nothing of it is read again after a crash.
    private const string MakeSql = """
        PRAGMA journal_mode = OFF;
        PRAGMA synchronous = OFF;
        CREATE TABLE candidate (sha256 TEXT NOT NULL, machine TEXT NOT NULL, moment TEXT NOT NULL);
        CREATE TABLE stays (sha256 TEXT PRIMARY KEY) WITHOUT ROWID;
        CREATE TABLE gone (sha256 TEXT PRIMARY KEY, size_bytes INTEGER NOT NULL) WITHOUT ROWID;
        """;

    public static async Task<PruneDraft> BeginAsync(CancellationToken token)
    {
        // Without a name it is a file of the temporary folder that nobody else sees.
        var scratch = new SqliteConnection(new SqliteConnectionStringBuilder { Pooling = false }.ToString());
        await scratch.OpenAsync(token);
        await scratch.ExecuteAsync(new CommandDefinition(MakeSql, cancellationToken: token));
        return new PruneDraft(scratch);
    }

    private const string MayGoSql =
        "INSERT INTO candidate (sha256, machine, moment) VALUES (@Sha256, @Machine, @Moment)";

    private const string StaysSql = "INSERT OR IGNORE INTO stays (sha256) VALUES (@Sha256)";

    /// <summary>Adds arrivals: bytes go only where every arrival that has them may go.</summary>
    public async Task AddAsync(IReadOnlyCollection<(Arrival Arrival, bool MayGo)> arrivals, CancellationToken token)
    {
        await using var transaction = await _scratch.BeginTransactionAsync(token);
        await _scratch.ExecuteAsync(new CommandDefinition(MayGoSql, arrivals.Where(one => one.MayGo)
            .Select(one => new
            {
                one.Arrival.Sha256,
                one.Arrival.Machine,
                Moment = UtcText.Of(one.Arrival.MomentUtc),
            }).ToList(), transaction, cancellationToken: token));
        await _scratch.ExecuteAsync(new CommandDefinition(StaysSql, arrivals.Where(one => !one.MayGo)
            .Select(one => new { one.Arrival.Sha256 }).ToList(), transaction, cancellationToken: token));
        await transaction.CommitAsync(token);
    }

    /// <summary>Adds bytes that stay.</summary>
    public async Task StayAsync(IAsyncEnumerable<string> sha256s, CancellationToken token)
    {
        await foreach (var some in sha256s.Chunk(AtOnce).WithCancellation(token))
        {
            await using var transaction = await _scratch.BeginTransactionAsync(token);
            await _scratch.ExecuteAsync(new CommandDefinition(StaysSql,
                some.Select(sha256 => new { Sha256 = sha256 }).ToList(), transaction, cancellationToken: token));
            await transaction.CommitAsync(token);
        }
    }

    private const string IndexSql = "CREATE INDEX candidate_by_sha256 ON candidate (sha256, machine, moment)";

    private const string NextSql = """
        SELECT DISTINCT c.sha256 FROM candidate c
        WHERE c.sha256 > @After AND NOT EXISTS (SELECT 1 FROM stays s WHERE s.sha256 = c.sha256)
        ORDER BY c.sha256 LIMIT @AtOnce
        """;

    private const string GoneSql = "INSERT INTO gone (sha256, size_bytes) VALUES (@Sha256, @Size)";

    /// <summary>
    /// Decides what goes, once all is added: of what may go and need not stay, that which the store keeps.
    /// </summary>
    public async Task WeighAsync(PruningReader store, CancellationToken token)
    {
        await _scratch.ExecuteAsync(new CommandDefinition(IndexSql, cancellationToken: token));
        for (var after = ""; ;)
        {
            var next = (await _scratch.QueryAsync<string>(new CommandDefinition(
                NextSql, new { After = after, AtOnce }, cancellationToken: token))).AsList();
            if (next.Count == 0) return;
            after = next[^1];
            await using var transaction = await _scratch.BeginTransactionAsync(token);
            await _scratch.ExecuteAsync(new CommandDefinition(GoneSql, (await store.KeptAsync(next, token))
                .Select(kept => new { Sha256 = kept.Key, Size = kept.Value }).ToList(), transaction,
                cancellationToken: token));
            await transaction.CommitAsync(token);
        }
    }

    private const string WeightsSql = """
        SELECT c.machine, SUM(c.arrivals) AS arrivals, SUM(g.size_bytes) AS size_bytes, MAX(c.last) AS last
        FROM (SELECT machine, sha256, COUNT(*) AS arrivals, MAX(moment) AS last FROM candidate
            GROUP BY sha256, machine) c
        JOIN gone g ON g.sha256 = c.sha256 GROUP BY c.machine ORDER BY c.machine
        """;

    /// <summary>What goes of each machine of which anything does; what several have counts with each.</summary>
    public async Task<IReadOnlyList<PruneWeight>> WeightsAsync(CancellationToken token) =>
        [.. (await _scratch.QueryAsync<Row>(new CommandDefinition(WeightsSql, cancellationToken: token)))
            .Select(row => new PruneWeight(row.Machine, row.Arrivals, row.Size_Bytes, UtcText.Read(row.Last)))];

    private const string SizeSql = "SELECT COALESCE(SUM(size_bytes), 0) FROM gone";

    public Task<long> SizeBytesAsync(CancellationToken token) =>
        _scratch.ExecuteScalarAsync<long>(new CommandDefinition(SizeSql, cancellationToken: token));

    private const string AllGoneSql = "SELECT sha256 FROM gone ORDER BY sha256";

    /// <summary>What goes.</summary>
    public Task<Sha256Set> GoneAsync(CancellationToken token) =>
        Sha256Set.OfSortedAsync(_scratch.QueryUnbufferedAsync<string>(AllGoneSql), token);

    public ValueTask DisposeAsync() => _scratch.DisposeAsync();

    private sealed class Row
    {
        public string Machine { get; init; } = "";

        public long Arrivals { get; init; }

        public long Size_Bytes { get; init; }

        public string Last { get; init; } = "";
    }
}
