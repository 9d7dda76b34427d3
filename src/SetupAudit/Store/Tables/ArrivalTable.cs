using System.Data.Common;
using Dapper;
using SetupAudit.Evidence;

namespace SetupAudit.Store.Tables;

/// <summary>What was taken in, as facts: from where, when, which bytes.</summary>
internal static class ArrivalTable
{
    private const int IdsAtOnce = 500;

    private const string KnownSql = "SELECT id FROM arrival WHERE id IN @Ids ORDER BY id";

    public static async Task<HashSet<string>> KnownAsync(
        DbTransaction transaction, IEnumerable<string> ids, CancellationToken token)
    {
        var known = new HashSet<string>(StringComparer.Ordinal);
        foreach (var some in ids.Chunk(IdsAtOnce))
            known.UnionWith(await transaction.Database().QueryAsync<string>(new CommandDefinition(
                KnownSql, new { Ids = some }, transaction, cancellationToken: token)));
        return known;
    }

    private const string InsertSql = """
        INSERT INTO arrival (id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc,
            previous_utc, received_utc, offset_bytes, first_line, refused)
        VALUES (@Id, @Machine, @Source, @File, @Sha256, @Blob, @Size_Bytes, @Modified_Utc, @Moment_Utc, @Previous_Utc,
            @Received_Utc, @Offset_Bytes, @First_Line, @Refused)
        """;

    public static Task InsertAsync(DbTransaction transaction, IEnumerable<Arrival> arrivals, CancellationToken token) =>
        transaction.RunAsync(InsertSql, arrivals.Select(Row.From).ToList(), token);

    private const string ListSql = """
        SELECT seq, id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc, previous_utc,
            received_utc, offset_bytes, first_line, refused
        FROM arrival WHERE seq > @After AND (@Machine IS NULL OR machine = @Machine) ORDER BY seq LIMIT @Limit
        """;

    /// <summary>In the order of taking in, a page at a time.</summary>
    public static async Task<IReadOnlyList<StoredArrival>> PageAsync(
        DbConnection connection, string? machine, long after, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            ListSql, new { Machine = machine, After = after, Limit = limit }, cancellationToken: token));
        return [.. rows.Select(row => new StoredArrival(row.Seq, row.ToArrival()))];
    }

    private const string UnreadSql = """
        SELECT a.seq, a.id, a.machine, a.source, a.file, a.sha256, a.blob, a.size_bytes, a.modified_utc, a.moment_utc,
            a.previous_utc, a.received_utc, a.offset_bytes, a.first_line, a.refused
        FROM scratch_unread u JOIN arrival a ON a.seq = u.seq
        WHERE u.machine = @Machine ORDER BY u.seq LIMIT @Limit
        """;

    /// <summary>The first that were taken in and not read yet.</summary>
    public static async Task<IReadOnlyList<StoredArrival>> UnreadAsync(
        DbConnection connection, string machine, int limit, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            UnreadSql, new { Machine = machine, Limit = limit }, cancellationToken: token));
        return [.. rows.Select(row => new StoredArrival(row.Seq, row.ToArrival()))];
    }

    private const string BySeqSql = """
        SELECT seq, id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc, previous_utc,
            received_utc, offset_bytes, first_line, refused
        FROM arrival WHERE seq IN @Seqs ORDER BY seq
        """;

    public static async Task<IReadOnlyList<StoredArrival>> BySeqAsync(
        DbConnection connection, IEnumerable<long> seqs, CancellationToken token)
    {
        var found = new List<StoredArrival>();
        foreach (var some in seqs.Chunk(IdsAtOnce))
            found.AddRange((await connection.QueryAsync<Row>(new CommandDefinition(
                BySeqSql, new { Seqs = some }, cancellationToken: token)))
                .Select(row => new StoredArrival(row.Seq, row.ToArrival())));
        return found;
    }

    private const string MachinesSql = "SELECT DISTINCT machine FROM arrival ORDER BY machine";

    public static async Task<IReadOnlyList<string>> MachinesAsync(DbConnection connection, CancellationToken token) =>
        [.. await connection.QueryAsync<string>(new CommandDefinition(MachinesSql, cancellationToken: token))];

    private const string ByIdSql = """
        SELECT seq, id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc, previous_utc,
            received_utc, offset_bytes, first_line, refused
        FROM arrival WHERE id = @Id
        """;

    public static async Task<StoredArrival?> ByIdAsync(DbConnection connection, string id, CancellationToken token) =>
        await connection.QueryFirstOrDefaultAsync<Row>(new CommandDefinition(
            ByIdSql, new { Id = id }, cancellationToken: token)) is { } row
            ? new StoredArrival(row.Seq, row.ToArrival())
            : null;

    private const string LastMomentsSql = """
        SELECT source, MAX(moment_utc) AS moment_utc FROM arrival
        WHERE machine = @Machine AND moment_utc <= @Until GROUP BY source ORDER BY source
        """;

    /// <summary>The latest moment that each source of a machine spoke of, up to a moment; by Watch index.</summary>
    public static async Task<IReadOnlyDictionary<int, DateTimeOffset>> LastMomentsAsync(
        DbConnection connection, string machine, DateTimeOffset untilUtc, CancellationToken token)
    {
        var rows = await connection.QueryAsync<Row>(new CommandDefinition(
            LastMomentsSql,
            new { Machine = machine, Until = UtcText.Of(untilUtc) },
            cancellationToken: token));
        return rows.ToDictionary(row => (int)row.Source, row => UtcText.Read(row.Moment_Utc));
    }

    private const string LastOfFolderSql = """
        SELECT moment_utc FROM arrival
        WHERE machine = @Machine AND source = @Source AND substr(file, 1, length(@Below)) = @Below
        ORDER BY moment_utc DESC LIMIT 1
        """;

    /// <summary>The latest moment that a source spoke of from a folder: an entry may have had another.</summary>
    public static async Task<DateTimeOffset?> LastMomentAsync(
        DbConnection connection, string machine, int source, string folder, CancellationToken token) =>
        await connection.QueryFirstOrDefaultAsync<string>(new CommandDefinition(
            LastOfFolderSql, new { Machine = machine, Source = source, Below = folder + "/" },
            cancellationToken: token)) is { } moment
            ? UtcText.Read(moment)
            : null;

    private const string FirstLinesSql = """
        SELECT DISTINCT file, sha256, first_line FROM arrival WHERE sha256 IN @Hashes ORDER BY file, sha256, first_line
        """;

    /// <summary>
    /// The number in its file of the first line of each of these bytes: not 1 for pieces of a print-out.
    /// </summary>
    public static async Task<IReadOnlyList<(string File, string Sha256, int FirstLine)>> FirstLinesAsync(
        DbConnection connection, IEnumerable<string> hashes, CancellationToken token)
    {
        var found = new List<(string, string, int)>();
        foreach (var some in hashes.Distinct(StringComparer.Ordinal).Chunk(IdsAtOnce))
            found.AddRange((await connection.QueryAsync<Row>(new CommandDefinition(
                FirstLinesSql, new { Hashes = some }, cancellationToken: token)))
                .Select(row => (row.File, row.Sha256, (int)row.First_Line)));
        return found;
    }

    private sealed class Row
    {
        public long Seq { get; init; }

        public string Id { get; init; } = "";

        public string Machine { get; init; } = "";

        public long Source { get; init; }

        public string File { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public string? Blob { get; init; }

        public long Size_Bytes { get; init; }

        public string Modified_Utc { get; init; } = "";

        public string Moment_Utc { get; init; } = "";

        public string? Previous_Utc { get; init; }

        public string Received_Utc { get; init; } = "";

        public long Offset_Bytes { get; init; }

        public long First_Line { get; init; }

        public string? Refused { get; init; }

        public static Row From(Arrival arrival) => new()
        {
            Id = arrival.Id,
            Machine = arrival.Machine,
            Source = arrival.Source,
            File = arrival.File,
            Sha256 = arrival.Sha256,
            Blob = arrival.Refused is null ? arrival.Sha256 : null,
            Size_Bytes = arrival.SizeBytes,
            Modified_Utc = UtcText.Of(arrival.ModifiedUtc),
            Moment_Utc = UtcText.Of(arrival.MomentUtc),
            Previous_Utc = UtcText.Of(arrival.PreviousUtc),
            Received_Utc = UtcText.Of(arrival.ReceivedUtc),
            Offset_Bytes = arrival.OffsetBytes,
            First_Line = arrival.FirstLine,
            Refused = arrival.Refused,
        };

        public Arrival ToArrival() => new()
        {
            Machine = Machine,
            Source = (int)Source,
            File = File,
            Sha256 = Sha256,
            SizeBytes = Size_Bytes,
            ModifiedUtc = UtcText.Read(Modified_Utc),
            MomentUtc = UtcText.Read(Moment_Utc),
            PreviousUtc = UtcText.ReadNullable(Previous_Utc),
            ReceivedUtc = UtcText.Read(Received_Utc),
            OffsetBytes = Offset_Bytes,
            FirstLine = (int)First_Line,
            Refused = Refused,
        };
    }
}
