using System.Data.Common;
using System.Text;
using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Tables;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>Finds what a record holds about one setup, and the tree that proves it. It only reads.</summary>
internal sealed class BundleSource(
    StoreDatabase database, DbConnection connection, string setup, StampFolder stamps, Action<string> tell)
{
    public async Task<BundleParts> PartsAsync(CancellationToken token)
    {
        var evidence = Evidence();
        var places = await BlobTable.FindAsync(connection, evidence, token);
        var dropped = (await PruningTable.DroppedAsync(connection, evidence, token)).Keys
            .ToHashSet(StringComparer.Ordinal);
        var entries = new List<StoredEntry>();
        // That its evidence was dropped tells nothing of the setup.
        var drops = new List<StoredEntry>();
        var rows = new List<(long, byte[])>();
        RecordBody? begin = null;
        VerifierKey? key = null;
        using (var all = OpenEntries())
            while (all.Read())
            {
                token.ThrowIfCancellationRequested();
                var entry = Entry(all);
                if (RecordBody.Read(entry.Body) is not { } body) continue;
                begin ??= body;
                if (NamesKey(body, ref key) || Concerns(body, evidence, rows)) entries.Add(entry);
                else if (Drops(body, dropped, rows)) drops.Add(entry);
            }
        if (begin is null || key is null)
            throw new StoreException(StoreFaultKind.Final, "The record has no first entry that names its key; "
                + "'verify' says what is wrong with it.");
        var stamp = await StampAsync(begin.Origin, entries, token);
        return new BundleParts
        {
            Origin = begin.Origin,
            Key = key,
            Entries = [.. entries.Concat(drops).OrderBy(entry => entry.Number)],
            Earlier = await EarlierAsync(entries, stamp?.Size, token),
            Stamp = stamp,
            Rows = rows,
            Dropped = [.. dropped.Order(StringComparer.Ordinal)],
            Evidence = [.. places.Values.OrderBy(place => place.Sha256, StringComparer.Ordinal)],
        };
    }

    /// <summary>The hashes of all leaves up to the newest checkpoint, and that checkpoint.</summary>
    public async Task<(SubtreeRoots Tree, SignedNote Note)> TreeAsync(string origin, CancellationToken token)
    {
        var last = await CheckpointTable.LastAsync(connection, token);
        if (last?.ToNote(origin) is not { } note)
            throw new StoreException(StoreFaultKind.Final, "The record has no signed checkpoint; 'verify' says more.");
        var leaves = new List<TreeHash>();
        await foreach (var leaf in EntryTable.LeavesAsync(connection, 0, last.Size).WithCancellation(token))
            leaves.Add(TreeHash.From(leaf));
        return (new SubtreeRoots(leaves), note);
    }

    // The first over all that is known of the setup, and the first over each change of keys, which both keys signed.
    private async Task<IReadOnlyList<StoredCheckpoint>> EarlierAsync(
        List<StoredEntry> entries, long? stamped, CancellationToken token)
    {
        var keys = entries.Where(entry => RecordBody.Read(entry.Body)?.Kind == RecordKind.Key).ToList();
        var covered = keys.Append(entries.Except(keys).Last()).Select(entry => entry.Number);
        if (stamped is { } size) covered = covered.Append(size - 1);
        var found = new SortedDictionary<long, StoredCheckpoint>();
        foreach (var number in covered)
            foreach (var checkpoint in await CheckpointTable.PageAsync(connection, number, 1, token))
                found[checkpoint.Size] = checkpoint;
        return [.. found.Values];
    }

    private async Task<(long Size, byte[] Answer)?> StampAsync(
        string origin, List<StoredEntry> entries, CancellationToken token)
    {
        // That bundles of it were made tells nothing of the setup.
        var own = entries.Where(entry => RecordBody.Read(entry.Body)?.Kind
            is not (RecordKind.Begin or RecordKind.Key or RecordKind.Export)).Select(entry => entry.Number).ToList();
        if (own.Count == 0) return null;
        var sizes = stamps.Sizes();
        var size = sizes.FirstOrDefault(one => one > own[^1], sizes.LastOrDefault(one => one > own[0]));
        if (size == 0) return null;
        try
        {
            var checkpoint = await CheckpointTable.OfSizeAsync(connection, size, token);
            var note = checkpoint?.ToNote(origin)?.ToBytes()
                ?? throw new StampFaultException("the record has no checkpoint over so many entries");
            var answer = stamps.Answer(size);
            StampReading.Check(answer, note, trust: null);
            return (size, answer);
        }
        catch (Exception fault) when (fault is StampFaultException or IOException or UnauthorizedAccessException)
        {
            tell($"The time stamp {stamps.FileOf(size)} is left out, for it does not hold: "
                + $"{fault.Message.TrimEnd('.')}.");
            return null;
        }
    }

    private const string NewestSql = "SELECT number, body, leaf FROM entry ORDER BY number DESC LIMIT 16";

    /// <summary>The entry that says a bundle with this list was made; null where none of the newest does.</summary>
    public StoredEntry? Export(string bundleSha256)
    {
        using var newest = connection.Read(NewestSql);
        while (newest.Read())
        {
            var entry = Entry(newest);
            if (RecordBody.Read(entry.Body) is { Kind: RecordKind.Export } body
                && body.Said.Contains(bundleSha256, StringComparison.Ordinal))
                return entry;
        }
        return null;
    }

    private static bool NamesKey(RecordBody body, ref VerifierKey? key)
    {
        if (body.Kind is not (RecordKind.Begin or RecordKind.Key)) return false;
        var history = new KeyHistory();
        if (history.TryAdd(body)) key = history.Last;
        return true;
    }

    private bool Concerns(RecordBody body, HashSet<string> evidence, List<(long, byte[])> rows)
    {
        if (body.Kind == RecordKind.Rows)
        {
            if (SealedRows.Read(body.Said) is not { Table: "derived" } seal || seal.Setup != setup) return false;
            rows.Add((body.Number, RowBytes(seal, key => key == setup)));
            return true;
        }
        using var said = JsonDocument.Parse(body.Said);
        return body.Kind == RecordKind.Arrival
            ? said.RootElement.TryGetProperty("sha256", out var sha256) && evidence.Contains(sha256.GetString() ?? "")
            : Strings(said.RootElement, null).Any(pair => Names(pair.Text));
    }

    // Who dropped what the setup rests on, when and why, and the rows that say which bytes.
    private bool Drops(RecordBody body, HashSet<string> dropped, List<(long, byte[])> rows)
    {
        if (dropped.Count == 0) return false;
        if (body.Kind == RecordKind.Keeping) return PruneWords.Says(body);
        if (body.Kind != RecordKind.Rows
            || SealedRows.Read(body.Said) is not { Table: SealedTables.Dropped, Keys: { } keys } seal
            || !keys.Any(dropped.Contains))
            return false;
        var own = keys.ToHashSet(StringComparer.Ordinal);
        rows.Add((body.Number, RowBytes(seal, own.Contains)));
        return true;
    }

    private bool Names(string text) => text == setup || text.StartsWith(setup + "/", StringComparison.Ordinal);

    private byte[] RowBytes(SealedRows seal, Func<string, bool> isOf)
    {
        using var bytes = new MemoryStream();
        using var digest = new RowDigest(bytes);
        using var command = connection.CreateCommand();
        var table = SealedTables.All.Single(table => table.Name == seal.Table);
        command.CommandText = table.RowsSql;
        command.With("@After", seal.After).With("@UpTo", seal.UpTo);
        using var rows = command.ExecuteReader();
        while (rows.Read())
            if (!rows.IsDBNull(0) && isOf(rows.GetString(0))) digest.Add(rows, table.BySetup ? 1 : 0);
        return bytes.ToArray();
    }

    private const string BodiesSql = """
        SELECT body FROM derived WHERE (setup = @Setup OR (kind = 'setup' AND id = @Setup)) AND body IS NOT NULL
        ORDER BY seq
        """;

    // Every place in what was derived that names bytes by their SHA-256.
    private HashSet<string> Evidence()
    {
        var found = new HashSet<string>(StringComparer.Ordinal);
        using var command = connection.CreateCommand();
        command.CommandText = BodiesSql;
        command.With("@Setup", setup);
        using var rows = command.ExecuteReader();
        while (rows.Read())
        {
            using var body = JsonDocument.Parse(Encoding.UTF8.GetBytes(rows.GetString(0)));
            found.UnionWith(Strings(body.RootElement, null)
                .Where(pair => pair.Name == "sha256" && TreeHash.TryParse(pair.Text, out _)).Select(pair => pair.Text));
        }
        return found;
    }

    private static IEnumerable<(string? Name, string Text)> Strings(JsonElement element, string? name) =>
        element.ValueKind switch
        {
            JsonValueKind.String => [(name, element.GetString() ?? "")],
            JsonValueKind.Array => element.EnumerateArray().SelectMany(item => Strings(item, name)),
            JsonValueKind.Object => element.EnumerateObject().SelectMany(item => Strings(item.Value, item.Name)),
            _ => [],
        };

    private static StoredEntry Entry(DbDataReader row) => new()
    {
        Number = row.GetInt64(0),
        Body = row.GetFieldValue<byte[]>(1),
        Leaf = row.GetFieldValue<byte[]>(2),
    };

    private const string EntriesSql = "SELECT number, body, leaf FROM entry ORDER BY number";

    private DbDataReader OpenEntries() => database.Walk(connection, EntriesSql);
}
