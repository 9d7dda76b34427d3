using System.Data.Common;
using System.Runtime.CompilerServices;
using SetupAudit.Records;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store;

/// <summary>
/// Reads a store, beside a service that writes it or without one. It changes nothing and holds no lock.
/// </summary>
public sealed class StoreReader : IDisposable
{
    private const int PageRows = 1000;

    // A program's reading may be large.
    private const int ShelfRows = 64;

    private readonly StoreDatabase _database;
    private readonly EvidenceFolder _evidence;

    internal StoreReader(StoreDatabase database)
    {
        _database = database;
        _evidence = new EvidenceFolder(database.Folder);
    }

    internal StoreDatabase Database => _database;

    public string Folder => _database.Folder;

    /// <summary>What alerts said.</summary>
    public OutboxReader Outbox => field ??= new OutboxReader(ConnectAsync);

    /// <summary>What was dropped.</summary>
    public PruningReader Prunings => field ??= new PruningReader(ConnectAsync);

    /// <summary>Opens the store whose rows and evidence are both in a folder.</summary>
    public static Task<StoreReader> OpenAsync(string folder, CancellationToken token) =>
        OpenAsync(new StoreConfig(folder, null), token);

    /// <summary>Opens a store, or throws a <see cref="StoreException"/> that says why it cannot be read.</summary>
    public static async Task<StoreReader> OpenAsync(StoreConfig place, CancellationToken token)
    {
        var database = StoreDatabase.Of(place);
        if (!database.MayBeThere) throw MigrationSet.NotBegun(database.Place);
        var reader = new StoreReader(database);
        try
        {
            await using var connection = await reader.ConnectAsync(token);
            await database.Migrations.RequireAsync(connection, database.Place, token);
            return reader;
        }
        catch (Exception)
        {
            reader.Dispose();
            throw;
        }
    }

    /// <summary>The kept bytes, their SHA-256 checked; null where none are kept. For files of up to 64 MiB.</summary>
    public async Task<byte[]?> ReadEvidenceAsync(string sha256, CancellationToken token) =>
        await PlaceAsync(sha256, token) is { } place ? _evidence.Read(place) : null;

    /// <summary>
    /// Kept bytes of several small files at once, by SHA-256; those that are not kept are left out.
    /// </summary>
    public async Task<IReadOnlyDictionary<string, byte[]>> ReadEvidenceAsync(
        IReadOnlyCollection<string> sha256s, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        var places = await BlobTable.FindAsync(connection, sha256s, token);
        return places.ToDictionary(pair => pair.Key, pair => _evidence.Read(pair.Value), StringComparer.Ordinal);
    }

    /// <summary>
    /// A stream over kept bytes of any size; null where none are kept. It throws at its end where they are damaged.
    /// </summary>
    public async Task<Stream?> OpenEvidenceAsync(string sha256, CancellationToken token) =>
        await PlaceAsync(sha256, token) is { } place ? _evidence.Open(place) : null;

    /// <summary>Every arrival, or every one of a machine, in the order of taking in.</summary>
    public async IAsyncEnumerable<StoredArrival> ArrivalsAsync(
        string? machine, long afterSeq, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<StoredArrival> page;
        do
        {
            await using (var connection = await ConnectAsync(token))
                page = await ArrivalTable.PageAsync(connection, machine, afterSeq, PageRows, token);
            foreach (var arrival in page) yield return arrival;
            if (page.Count > 0) afterSeq = page[^1].Seq;
        }
        while (page.Count == PageRows);
    }

    /// <summary>The machines that anything was taken in from; an empty name stands for the sheets.</summary>
    public async Task<IReadOnlyList<string>> MachinesAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.MachinesAsync(connection, token);
    }

    /// <summary>The first arrivals of a machine that were taken in and not read yet.</summary>
    public async Task<IReadOnlyList<StoredArrival>> UnreadAsync(string machine, int limit, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.UnreadAsync(connection, machine, limit, token);
    }

    /// <summary>How many arrivals of each machine wait to be read; one of which none waits is not in it.</summary>
    public async Task<IReadOnlyDictionary<string, long>> BacklogAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await UnreadTable.BacklogAsync(connection, token);
    }

    /// <summary>Programs, sheets and waiting files of a machine, in the order of taking in.</summary>
    public async IAsyncEnumerable<ShelfItem> ShelfAsync(
        string machine, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<(long Seq, byte[]? Body)> page;
        var after = 0L;
        do
        {
            IReadOnlyList<StoredArrival> arrivals;
            await using (var connection = await ConnectAsync(token))
            {
                page = await ShelfTable.PageAsync(connection, machine, after, ShelfRows, token);
                arrivals = await ArrivalTable.BySeqAsync(connection, page.Select(item => item.Seq), token);
            }
            foreach (var (item, arrival) in page.Zip(arrivals))
                yield return new ShelfItem(arrival, item.Body is null ? null : new ReadOnlyMemory<byte>?(item.Body));
            if (page.Count > 0) after = page[^1].Seq;
        }
        while (page.Count == ShelfRows);
    }

    /// <summary>From where a machine must be folded again; null where its fold is up to date.</summary>
    public async Task<DirtyMark?> DirtyAsync(string machine, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await DirtyTable.GetAsync(connection, machine, token);
    }

    public async Task<StoredArrival?> ArrivalAsync(string id, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.ByIdAsync(connection, id, token);
    }

    /// <summary>The latest moment that each source of a machine spoke of, up to a moment; by Watch index.</summary>
    public async Task<IReadOnlyDictionary<int, DateTimeOffset>> LastMomentsAsync(
        string machine, DateTimeOffset untilUtc, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.LastMomentsAsync(connection, machine, untilUtc, token);
    }

    /// <summary>The latest moment that a source of a machine spoke of from a folder; null where none.</summary>
    public async Task<DateTimeOffset?> LastMomentAsync(
        string machine, int source, string folder, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.LastMomentAsync(connection, machine, source, folder, token);
    }

    /// <summary>
    /// The number in its file of the first line of each of these bytes: not 1 for pieces of a print-out.
    /// </summary>
    public async Task<IReadOnlyList<(string File, string Sha256, int FirstLine)>> FirstLinesAsync(
        IEnumerable<string> hashes, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ArrivalTable.FirstLinesAsync(connection, hashes, token);
    }

    /// <summary>Where each file of a machine's source stands.</summary>
    public async Task<IReadOnlyList<SourcePosition>> PositionsAsync(
        string machine, string source, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await PositionTable.ListAsync(connection, machine, source, token);
    }

    /// <summary>A machine's time line behind a position, or all of it, in the order in which it is folded.</summary>
    public async IAsyncEnumerable<StoredSighting> SightingsAsync(
        string machine, SightingPosition? after, [EnumeratorCancellation] CancellationToken token)
    {
        // A page at a time, so that no long read keeps the write-ahead log from being folded back.
        IReadOnlyList<StoredSighting> page;
        do
        {
            await using (var connection = await ConnectAsync(token))
                page = await SightingTable.PageAsync(connection, machine, after, PageRows, token);
            foreach (var sighting in page) yield return sighting;
            if (page.Count > 0) after = page[^1].Position;
        }
        while (page.Count == PageRows);
    }

    /// <summary>
    /// What the same sources showed of the same moments, before each of some positions in the order of folding.
    /// </summary>
    public async Task<IReadOnlyList<StoredSighting>> BesideAsync(
        string machine, IReadOnlyCollection<SightingPosition> places, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        var beside = new List<StoredSighting>();
        foreach (var place in places)
            beside.AddRange(await SightingTable.BesideAsync(connection, machine, place, token));
        return beside;
    }

    /// <summary>The latest kept state at or before a position, or the latest of all; null where none is kept.</summary>
    public async Task<KeptState?> LatestKeptAsync(string machine, SightingPosition? atOrBefore, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await KeptTable.LatestAsync(connection, machine, atOrBefore, token);
    }

    /// <summary>The positions at which states are kept, oldest first.</summary>
    public async Task<IReadOnlyList<SightingPosition>> KeptPositionsAsync(string machine, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await KeptTable.PositionsAsync(connection, machine, token);
    }

    /// <summary>
    /// Up to when the machine's sources are known to have been read; null before the first clean scan.
    /// </summary>
    public async Task<DateTimeOffset?> HorizonAsync(string machine, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await HorizonTable.LatestAsync(connection, machine, token);
    }

    /// <summary>The sources of a machine that are left out of what is derived.</summary>
    public async Task<IReadOnlyList<SourceGap>> GapsAsync(string machine, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await GapTable.OpenAsync(connection, machine, token);
    }

    /// <summary>The rows of a kind that hold now (and those withdrawn, if asked for), by moment and id.</summary>
    public async IAsyncEnumerable<StoredDerived> DerivedAsync(
        DerivedQuery query, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<(StoredDerived Row, long Seq)> page;
        (StoredDerived Row, long Seq)? after = null;
        do
        {
            await using (var connection = await ConnectAsync(token))
                page = query.Setup is null
                    ? await DerivedList.PageAsync(connection, query, after, PageRows, token)
                    : await DerivedList.PageOfSetupAsync(connection, query, after, PageRows, token);
            foreach (var (row, _) in page) yield return row;
            if (page.Count > 0) after = page[^1];
        }
        while (page.Count == PageRows);
    }

    /// <summary>
    /// What holds now whose id begins so, at most <paramref name="limit"/>: one where the beginning is unique.
    /// </summary>
    public async Task<IReadOnlyList<StoredDerived>> BeginningAsync(
        DerivedKind kind, string beginning, int limit, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await DerivedList.BeginningAsync(connection, kind, beginning, limit, token);
    }

    /// <summary>Every row about people, oldest first; of a person the newest holds.</summary>
    public async Task<IReadOnlyList<StoredPerson>> PeopleAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await PersonTable.AllAsync(connection, token);
    }

    /// <summary>A person's latest names and passwords given, the newest first.</summary>
    public async Task<IReadOnlyList<StoredSignIn>> SignInsAsync(string person, int limit, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await SignInTable.LatestAsync(connection, person, limit, token);
    }

    /// <summary>Which record this is; null where none has begun.</summary>
    public async Task<string?> OriginAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        var first = await EntryTable.PageAsync(connection, 0, 1, 1, token);
        return first.Count == 0 ? null : RecordBody.Read(first[0].Body)?.Origin;
    }

    /// <summary>Every entry of these kinds, oldest first.</summary>
    public async IAsyncEnumerable<RecordBody> EntriesAsync(
        IReadOnlyList<RecordKind> kinds, [EnumeratorCancellation] CancellationToken token)
    {
        IReadOnlyList<StoredEntry> page;
        var from = 0L;
        do
        {
            await using (var connection = await ConnectAsync(token))
                page = await EntryTable.PageOfKindsAsync(connection, _database.Dialect,
                    [.. kinds.Select(RecordBody.NameOf)], from, PageRows, token);
            foreach (var entry in page)
                if (RecordBody.Read(entry.Body) is { } body) yield return body;
            if (page.Count > 0) from = page[^1].Number + 1;
        }
        while (page.Count == PageRows);
    }

    /// <summary>Every review, oldest first.</summary>
    public async Task<IReadOnlyList<Review>> ReviewsAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await ReviewTable.AllAsync(connection, token);
    }

    /// <summary>The last start of the program on this store; null in a new one.</summary>
    public async Task<StartRecord?> LatestStartAsync(CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await StartTable.LatestAsync(connection, token);
    }

    /// <summary>Whether all that is derived of a machine is for this configuration and program.</summary>
    public async Task<bool> IsDerivedForAsync(
        string machine, string configurationSha256, string programVersion, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return await StartTable.IsDerivedForAsync(connection, machine, configurationSha256, programVersion, token);
    }

    public void Dispose()
    {
        _evidence.Dispose();
        _database.ForgetReaders();
    }

    private async Task<BlobPlace?> PlaceAsync(string sha256, CancellationToken token)
    {
        await using var connection = await ConnectAsync(token);
        return (await BlobTable.FindAsync(connection, [sha256], token)).GetValueOrDefault(sha256);
    }

    private Task<DbConnection> ConnectAsync(CancellationToken token) => _database.OpenReaderAsync(token);
}
