using System.Data.Common;
using System.Runtime.CompilerServices;
using Dapper;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Tables;

/// <summary>
/// Which bytes are kept, by SHA-256, and where in the segments they lie: as the newest row in <c>placed</c> says, else
/// the one in <c>blob</c>. Where a row in <c>dropped</c> names that very place, they are not kept any more.
/// </summary>
internal static class BlobTable
{
    private const int IdsAtOnce = 500;
    private const int PageRows = 10_000;

    private const string InsertSql = """
        INSERT INTO blob (sha256, size_bytes, segment, position, stored_bytes)
        VALUES (@Sha256, @SizeBytes, @Segment, @Position, @StoredBytes)
        """;

    private const string PlaceSql = """
        INSERT INTO placed (sha256, segment, position, stored_bytes)
        VALUES (@Sha256, @Segment, @Position, @StoredBytes)
        """;

    private const string KnownSql = "SELECT sha256 FROM blob WHERE sha256 IN @Sha256s ORDER BY sha256";

    /// <summary>
    /// Writes down where bytes lie from now on, be they new, moved, or there again after they were dropped.
    /// </summary>
    public static async Task InsertAsync(
        DbTransaction transaction, IReadOnlyCollection<BlobPlace> places, CancellationToken token)
    {
        foreach (var some in places.Chunk(IdsAtOnce))
        {
            var known = (await transaction.Database().QueryAsync<string>(new CommandDefinition(
                KnownSql, new { Sha256s = some.Select(place => place.Sha256) }, transaction,
                cancellationToken: token))).ToHashSet(StringComparer.Ordinal);
            await transaction.RunAsync(InsertSql, some.Where(place => !known.Contains(place.Sha256)).ToList(), token);
            await transaction.RunAsync(PlaceSql, some.Where(place => known.Contains(place.Sha256)).ToList(), token);
        }
    }

    private const string DropSql = """
        INSERT INTO dropped (sha256, size_bytes, segment, position, pruning)
        VALUES (@Sha256, @SizeBytes, @Segment, @Position, @Pruning)
        """;

    /// <summary>Writes down that bytes are not kept any more.</summary>
    public static Task DropAsync(
        DbTransaction transaction, IEnumerable<BlobPlace> places, long pruning, CancellationToken token) =>
        transaction.RunAsync(DropSql, places.Select(place => new
        {
            place.Sha256,
            place.SizeBytes,
            place.Segment,
            place.Position,
            Pruning = pruning,
        }).ToList(), token);

    private const string FindSql = """
        SELECT b.sha256, b.size_bytes, COALESCE(p.segment, b.segment) AS segment,
            COALESCE(p.position, b.position) AS position, COALESCE(p.stored_bytes, b.stored_bytes) AS stored_bytes
        FROM blob b LEFT JOIN placed p ON p.seq = (SELECT MAX(n.seq) FROM placed n WHERE n.sha256 = b.sha256)
        WHERE b.sha256 IN @Sha256s
            AND NOT EXISTS (SELECT 1 FROM dropped d WHERE d.sha256 = b.sha256
                AND d.segment = COALESCE(p.segment, b.segment) AND d.position = COALESCE(p.position, b.position))
        ORDER BY b.sha256
        """;

    /// <summary>Where bytes lie that are kept; those that never were, or were dropped, are left out.</summary>
    public static async Task<Dictionary<string, BlobPlace>> FindAsync(
        DbConnection connection, IEnumerable<string> sha256s, CancellationToken token,
        DbTransaction? transaction = null)
    {
        var found = new Dictionary<string, BlobPlace>(StringComparer.Ordinal);
        foreach (var some in sha256s.Distinct(StringComparer.Ordinal).Chunk(IdsAtOnce))
        {
            var rows = await connection.QueryAsync<Row>(new CommandDefinition(
                FindSql, new { Sha256s = some }, transaction, cancellationToken: token));
            foreach (var row in rows) found[row.Sha256] = row.ToPlace();
        }
        return found;
    }

    /// <summary>The segments in which bytes lie that are kept.</summary>
    public static async Task<IReadOnlyCollection<int>> SegmentsAsync(DbConnection connection,
        IEnumerable<string> sha256s, CancellationToken token, DbTransaction? transaction = null)
    {
        var segments = new SortedSet<int>();
        foreach (var some in sha256s.Chunk(IdsAtOnce))
            foreach (var place in (await FindAsync(connection, some, token, transaction)).Values)
                segments.Add(place.Segment);
        return segments;
    }

    private const string InSegmentSql = """
        SELECT b.sha256, b.size_bytes, s.segment, s.position, s.stored_bytes
        FROM (SELECT sha256, segment, position, stored_bytes FROM blob WHERE segment = @Segment
            UNION ALL SELECT sha256, segment, position, stored_bytes FROM placed WHERE segment = @Segment) s
        JOIN blob b ON b.sha256 = s.sha256
        LEFT JOIN placed p ON p.seq = (SELECT MAX(n.seq) FROM placed n WHERE n.sha256 = b.sha256)
        WHERE s.segment = COALESCE(p.segment, b.segment) AND s.position = COALESCE(p.position, b.position)
            AND s.position > @After AND NOT EXISTS (SELECT 1 FROM dropped d
                WHERE d.sha256 = s.sha256 AND d.segment = s.segment AND d.position = s.position)
        ORDER BY s.position LIMIT @Limit
        """;

    /// <summary>
    /// The bytes that lie in a segment and are kept, in the order in which they lie; a page at a time, for a segment of
    /// small files has hundreds of thousands.
    /// </summary>
    public static async IAsyncEnumerable<BlobPlace> InSegmentAsync(DbConnection connection, int segment,
        [EnumeratorCancellation] CancellationToken token, DbTransaction? transaction = null)
    {
        List<BlobPlace> page;
        var after = -1L;
        do
        {
            page = [.. (await connection.QueryAsync<Row>(new CommandDefinition(InSegmentSql,
                new { Segment = segment, After = after, Limit = PageRows }, transaction, cancellationToken: token)))
                .Select(row => row.ToPlace())];
            foreach (var place in page) yield return place;
            if (page.Count > 0) after = page[^1].Position;
        }
        while (page.Count == PageRows);
    }

    private const string HoldsSql = """
        SELECT EXISTS (SELECT 1 FROM blob b WHERE b.segment = @Segment
                AND NOT EXISTS (SELECT 1 FROM placed p WHERE p.sha256 = b.sha256)
                AND NOT EXISTS (SELECT 1 FROM dropped d
                    WHERE d.sha256 = b.sha256 AND d.segment = b.segment AND d.position = b.position))
            OR EXISTS (SELECT 1 FROM placed p WHERE p.segment = @Segment
                AND NOT EXISTS (SELECT 1 FROM placed n WHERE n.sha256 = p.sha256 AND n.seq > p.seq)
                AND NOT EXISTS (SELECT 1 FROM dropped d
                    WHERE d.sha256 = p.sha256 AND d.segment = p.segment AND d.position = p.position))
            OR NOT EXISTS (SELECT 1 FROM blob WHERE segment = @Segment
                UNION ALL SELECT 1 FROM placed WHERE segment = @Segment)
        """;

    /// <summary>Whether kept bytes lie in a segment, or rows that are still to be written may name it.</summary>
    public static async Task<bool> HoldsAsync(DbConnection connection, int segment, CancellationToken token) =>
        await connection.ExecuteScalarAsync<long>(new CommandDefinition(
            HoldsSql, new { Segment = segment }, cancellationToken: token)) != 0;

    private const string LastSql = """
        SELECT b.sha256, b.size_bytes, b.segment, b.position, b.stored_bytes FROM blob b
        WHERE NOT EXISTS (SELECT 1 FROM placed p WHERE p.sha256 = b.sha256)
            AND NOT EXISTS (SELECT 1 FROM dropped d
                WHERE d.sha256 = b.sha256 AND d.segment = b.segment AND d.position = b.position)
        ORDER BY b.segment DESC, b.position DESC LIMIT 1
        """;

    private const string LastPlacedSql = """
        SELECT p.sha256, b.size_bytes, p.segment, p.position, p.stored_bytes
        FROM placed p JOIN blob b ON b.sha256 = p.sha256
        WHERE NOT EXISTS (SELECT 1 FROM placed n WHERE n.sha256 = p.sha256 AND n.seq > p.seq)
            AND NOT EXISTS (SELECT 1 FROM dropped d
                WHERE d.sha256 = p.sha256 AND d.segment = p.segment AND d.position = p.position)
        ORDER BY p.segment DESC, p.position DESC LIMIT 1
        """;

    /// <summary>The kept bytes that lie last in the segments; null in a new store.</summary>
    public static async Task<BlobPlace?> LastAsync(DbConnection connection, CancellationToken token)
    {
        var last = new CommandDefinition(LastSql, cancellationToken: token);
        var blob = (await connection.QueryFirstOrDefaultAsync<Row>(last))?.ToPlace();
        var lastPlaced = new CommandDefinition(LastPlacedSql, cancellationToken: token);
        var placed = (await connection.QueryFirstOrDefaultAsync<Row>(lastPlaced))?.ToPlace();
        return (blob?.Segment ?? 0, blob?.Position ?? 0).CompareTo((placed?.Segment ?? 0, placed?.Position ?? 0)) < 0
            ? placed
            : blob;
    }

    private const string HighestSql = """
        SELECT COALESCE(MAX(highest), 0)
        FROM (SELECT MAX(segment) AS highest FROM blob UNION ALL SELECT MAX(segment) FROM placed) AS named
        """;

    /// <summary>The highest number of a segment that a row names; 0 for none.</summary>
    public static async Task<int> HighestAsync(DbConnection connection, CancellationToken token) =>
        (int)await connection.ExecuteScalarAsync<long>(new CommandDefinition(HighestSql, cancellationToken: token));

    private const string AnyDroppedSql = "SELECT EXISTS (SELECT 1 FROM dropped)";

    /// <summary>Whether anything was ever dropped: else no segment can be emptied.</summary>
    public static async Task<bool> AnyDroppedAsync(DbConnection connection, CancellationToken token) =>
        await connection.ExecuteScalarAsync<long>(new CommandDefinition(AnyDroppedSql, cancellationToken: token)) != 0;

    private sealed class Row
    {
        public string Sha256 { get; init; } = "";

        public long Size_Bytes { get; init; }

        public long Segment { get; init; }

        public long Position { get; init; }

        public long Stored_Bytes { get; init; }

        public BlobPlace ToPlace() => new(Sha256, (int)Segment, Position, Stored_Bytes, Size_Bytes);
    }
}
