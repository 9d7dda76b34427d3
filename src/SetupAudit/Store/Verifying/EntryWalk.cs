using System.Data.Common;
using SetupAudit.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Walks all entries of a record once, in their order, against its checkpoints: each body to its leaf, the leaves to
/// every signed root, each signature by the key in force there, and the numbers without a gap.
/// </summary>
internal sealed class EntryWalk(
    StoreDatabase database, DbConnection snapshot, FaultList faults, SealWalk seals, VerifyOptions options)
{
    private const int ProgressEvery = 4096;

    private readonly TreeWalk _tree = new();
    private readonly List<long> _unfit = [];
    private bool _isBroken;
    private DateTimeOffset _latestUtc = DateTimeOffset.MinValue;

    public KeyHistory Keys { get; } = new();

    public string? Origin { get; private set; }

    /// <summary>How many entries were read.</summary>
    public long Entries { get; private set; }

    /// <summary>How many entries the last checkpoint that holds covers.</summary>
    public long Good { get; private set; }

    public long Checkpoints { get; private set; }

    /// <summary>The newest checkpoint, whether it holds or not.</summary>
    public Checkpoint? Newest { get; private set; }

    /// <summary>Entries whose time lies before that of one before them: how many, and the first.</summary>
    public (long Count, long First) SetBack { get; private set; }

    public void Run(CancellationToken token)
    {
        using var entries = OpenEntries();
        using var checkpoints = OpenCheckpoints();
        var waiting = Next(checkpoints);
        while (entries.Read())
        {
            token.ThrowIfCancellationRequested();
            if (waiting is { Size: < 1 }) waiting = Skip(waiting, checkpoints);
            Take(entries.GetInt64(0), entries.GetFieldValue<byte[]>(1), entries.GetFieldValue<byte[]>(2));
            for (; waiting is not null && waiting.Size <= Entries; waiting = Next(checkpoints)) Check(waiting);
            if (Entries % ProgressEvery == 0) options.Progress?.Report(("entries", Entries));
        }
        End(waiting, checkpoints);
        if (!_isBroken) seals.End();
    }

    private void End(StoredCheckpoint? waiting, DbDataReader checkpoints)
    {
        if (Entries == 0 && waiting is null && Checkpoints == 0)
            faults.Add(FaultCode.Empty, $"the record is empty: it has no entry and no checkpoint");
        else if (waiting is null && Newest is null && !_isBroken)
            faults.Add(FaultCode.NoCheckpoint, 0, $"the record has {Entries} entries and no signed checkpoint");
        for (; waiting is not null; waiting = Next(checkpoints))
        {
            if (!_isBroken)
                faults.Add(FaultCode.EntryMissing, Entries,
                    $"a signed checkpoint covers {waiting.Size} entries, and only {Entries} are there: those from "
                    + $"{Entries} on are missing");
            _isBroken = true;
        }
        if (_isBroken || Newest is null || Newest.Size == Entries) return;
        faults.Add(FaultCode.NotCovered, Newest.Size,
            $"the entries from {Newest.Size} to {Entries - 1} are covered by no signed checkpoint");
        foreach (var entry in _unfit) Unfit(entry);
    }

    private void Take(long number, byte[] bytes, byte[] leaf)
    {
        if (number != Entries && !_isBroken)
        {
            faults.Add(FaultCode.EntryMissing, Entries,
                $"entry {Entries} is missing: the next one that is there is {number}");
            Break();
        }
        var hashed = MerkleTree.Leaf(bytes);
        var fits = TreeHash.TryRead(leaf, out var kept) && kept == hashed;
        if (!fits && _isBroken) Unfit(number);
        else if (!fits) _unfit.Add(number);
        _tree.Append(kept, hashed);
        Entries++;
        if (fits && !_isBroken) Look(number, bytes);
        else if (!fits) seals.LoseTrack();
        // Without its first entry nothing says whose the record is: no later one can be judged.
        if (Origin is null && !_isBroken) Break();
    }

    private void Look(long number, byte[] bytes)
    {
        if (RecordBody.Read(bytes) is not { } body)
        {
            faults.Add(FaultCode.EntryUnreadable, number, $"entry {number} is not written as an entry is");
            return;
        }
        if (number == 0 && !Begin(body)) return;
        if (body.Number != number)
            faults.Add(FaultCode.EntryMisplaced, number,
                $"entry {number} says of itself that it is entry {body.Number}");
        if (body.Origin != Origin)
            faults.Add(FaultCode.EntryMisplaced, number,
                $"entry {number} says of itself that it belongs to the record {body.Origin}");
        if (body.AtUtc < _latestUtc) SetBack = (SetBack.Count + 1, SetBack.Count == 0 ? number : SetBack.First);
        _latestUtc = body.AtUtc;
        if (body.Kind == RecordKind.Rows) seals.Take(number, body.Said);
        if (body.Kind == RecordKind.Key && !Keys.TryAdd(body))
            faults.Add(FaultCode.KeyChange, number, $"entry {number} changes the key and names none that can be read");
    }

    private bool Begin(RecordBody body)
    {
        Origin = body.Origin;
        if (body.Kind == RecordKind.Begin && Keys.TryAdd(body)) return true;
        faults.Add(FaultCode.UnknownKey, 0, $"the first entry does not name the key that signs this record");
        return false;
    }

    private void Check(StoredCheckpoint stored)
    {
        Checkpoints++;
        if (_isBroken || Origin is null) return;
        var sizeBefore = Newest?.Size ?? 0;
        if (!TreeHash.TryRead(stored.Root, out var root))
        {
            faults.Add(FaultCode.BadSignature, Good,
                $"the root of the checkpoint over {stored.Size} entries is no hash");
            return;
        }
        Newest = new Checkpoint(Origin, stored.Size, root);
        var signature = stored.ToNote(Origin) is { } note
            ? Keys.FaultOf(note, sizeBefore, stored.Size)
            : "it is not signed";
        if (signature is not null)
        {
            Checkpoints--;
            var code = signature.StartsWith("no key", StringComparison.Ordinal) ? FaultCode.UnknownKey
                : signature == "it is not signed" ? FaultCode.NoCheckpoint : FaultCode.BadSignature;
            faults.Add(code, Good, $"the checkpoint over {stored.Size} entries does not hold: {signature}");
        }
        var (fits, byBodies) = _tree.Compare(root);
        foreach (var entry in _unfit)
            if (!fits) Unfit(entry);
            else if (byBodies)
                faults.Add(FaultCode.EntryAltered, entry,
                    $"the hash kept with entry {entry} was altered; what it says is as it was signed");
            else faults.Add(FaultCode.EntryAltered, entry,
                $"entry {entry} was altered: what it says is not what was signed");
        _unfit.Clear();
        if (fits && signature is null) Good = stored.Size;
        if (fits) return;
        faults.Add(FaultCode.TreeAltered, Good,
            $"the checkpoint over {stored.Size} entries was signed over others: of the entries {Good} to "
            + $"{stored.Size - 1} one or more were altered, added or taken away");
        Checkpoints--;
        Break();
    }

    private void Break()
    {
        _isBroken = true;
        foreach (var entry in _unfit) Unfit(entry);
        _unfit.Clear();
    }

    private void Unfit(long entry) =>
        faults.Add(FaultCode.EntryAltered, entry,
            $"entry {entry} was altered: what it says does not fit the hash kept with it");

    private StoredCheckpoint? Skip(StoredCheckpoint checkpoint, DbDataReader checkpoints)
    {
        faults.Add(FaultCode.BadSignature, 0, $"a checkpoint says that it covers {checkpoint.Size} entries");
        return Next(checkpoints);
    }

    private static StoredCheckpoint? Next(DbDataReader rows) => rows.Read()
        ? new StoredCheckpoint
        {
            Size = rows.GetInt64(0),
            Root = rows.GetFieldValue<byte[]>(1),
            Signed = rows.GetString(2),
        }
        : null;

    private const string EntriesSql = "SELECT number, body, leaf FROM entry ORDER BY number";

    private DbDataReader OpenEntries() => database.Walk(snapshot, EntriesSql);

    private const string CheckpointsSql = "SELECT size, root, signed FROM checkpoint ORDER BY size";

    private DbDataReader OpenCheckpoints() => database.Walk(snapshot, CheckpointsSql);
}
