using System.Data.Common;
using Dapper;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Tables;

/// <summary>Which bytes are kept, by SHA-256, and where in the segments they lie.</summary>
internal static class BlobTable
{
    private const int IdsAtOnce = 500;

    private const string InsertSql = """
        INSERT INTO blob (sha256, size_bytes, segment, position, stored_bytes)
        VALUES (@Sha256, @SizeBytes, @Segment, @Position, @StoredBytes)
        """;

    public static Task InsertAsync(
        DbTransaction transaction, IReadOnlyCollection<BlobPlace> places, CancellationToken token) =>
        transaction.RunAsync(InsertSql, places, token);

    private const string FindSql = """
        SELECT sha256, size_bytes, segment, position, stored_bytes FROM blob WHERE sha256 IN @Sha256s ORDER BY sha256
        """;

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

    private const string LastSql = """
        SELECT sha256, size_bytes, segment, position, stored_bytes FROM blob
        ORDER BY segment DESC, position DESC LIMIT 1
        """;

    /// <summary>The blob that lies last in the segments; null in a new store.</summary>
    public static async Task<BlobPlace?> LastAsync(DbConnection connection, CancellationToken token)
    {
        var last = new CommandDefinition(LastSql, cancellationToken: token);
        return (await connection.QueryFirstOrDefaultAsync<Row>(last))?.ToPlace();
    }

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
