using System.Data.Common;
using Dapper;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Retention;

/// <summary>Reads what was dropped, and what would have to stay.</summary>
public sealed class PruningReader
{
    private readonly Func<CancellationToken, Task<DbConnection>> _connect;

    internal PruningReader(Func<CancellationToken, Task<DbConnection>> connect) => _connect = connect;

    /// <summary>Every act, oldest first.</summary>
    public async Task<IReadOnlyList<StoredPruning>> AllAsync(CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await PruningTable.AllAsync(connection, token);
    }

    /// <summary>The lines of a machine, oldest first; none where nothing of it was dropped.</summary>
    public async Task<IReadOnlyList<PruneLine>> LinesAsync(string machine, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await PruningTable.LinesAsync(connection, machine, token);
    }

    /// <summary>The line that holds now; null where nothing of the machine was dropped.</summary>
    public async Task<PruneLine?> LineAsync(string machine, CancellationToken token) =>
        (await LinesAsync(machine, token)).MaxBy(line => line.FromUtc);

    /// <summary>Which of some bytes are dropped now, and by which act.</summary>
    public async Task<IReadOnlyDictionary<string, StoredPruning>> DroppedAsync(
        IEnumerable<string> sha256s, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return await PruningTable.DroppedAsync(connection, sha256s, token);
    }

    private const string NeededSql = """
        SELECT configuration_sha256 FROM start UNION SELECT state FROM pruned_line
        UNION SELECT a.sha256 FROM scratch_shelf s JOIN arrival a ON a.seq = s.seq
        UNION SELECT a.sha256 FROM scratch_unread u JOIN arrival a ON a.seq = u.seq
        """;

    private const string SightedSql =
        "SELECT DISTINCT sha256 FROM scratch_sighting WHERE machine = @Machine AND at_utc >= @FromUtc";

    /// <summary>
    /// Tells a draft the bytes that stay whatever their age: configurations, states, what is looked up, what waits, and
    /// what a time line still shows behind its line.
    /// </summary>
    public async Task NeededAsync(
        IReadOnlyDictionary<string, DateTimeOffset> lines, PruneDraft draft, CancellationToken token)
    {
        await using var connection = await _connect(token);
        await draft.StayAsync(connection.QueryUnbufferedAsync<string>(NeededSql), token);
        foreach (var (machine, fromUtc) in lines)
            await draft.StayAsync(connection.QueryUnbufferedAsync<string>(
                SightedSql, new { Machine = machine, FromUtc = UtcText.Of(fromUtc) }), token);
    }

    /// <summary>Which of some bytes are kept, with how many there are of each.</summary>
    public async Task<IReadOnlyDictionary<string, long>> KeptAsync(
        IEnumerable<string> sha256s, CancellationToken token)
    {
        await using var connection = await _connect(token);
        return (await BlobTable.FindAsync(connection, sha256s, token))
            .ToDictionary(pair => pair.Key, pair => pair.Value.SizeBytes, StringComparer.Ordinal);
    }

    /// <summary>How many bytes that stay lie in segments with some that go, and must be moved.</summary>
    public async Task<long> MovedAsync(Sha256Set sha256s, CancellationToken token)
    {
        await using var connection = await _connect(token);
        var moved = 0L;
        foreach (var segment in await BlobTable.SegmentsAsync(connection, sha256s, token))
            await foreach (var place in BlobTable.InSegmentAsync(connection, segment, token))
                if (!sha256s.Contains(place.Sha256)) moved += place.StoredBytes;
        return moved;
    }
}
