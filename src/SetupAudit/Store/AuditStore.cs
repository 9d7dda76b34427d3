using System.Data.Common;
using System.Runtime.ExceptionServices;
using Serilog;
using SetupAudit.Records;
using SetupAudit.Shop;
using SetupAudit.Store.Outbox;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store;

/// <summary>
/// The record, open for writing: one at a time holds it. Evidence is on disk before the rows that point to it are
/// committed, and rows, positions and sightings of a batch are committed together. After a <see cref="StoreException"/>
/// of kind Temporary close it and open it again: nothing is tried twice on a handle that failed.
/// </summary>
public sealed class AuditStore : IAsyncDisposable
{
    private readonly SemaphoreSlim _gate = new(1, 1);
    private readonly StoreLock _lock;
    private readonly DbConnection _connection;
    private readonly EvidenceAppender _evidence;
    private readonly EvidenceKeeping _keeping;
    private readonly DerivedRecord _derived = new();
    private readonly RecordKeeper? _record;
    private readonly TimeProvider _time;
    private bool _failed;

    private AuditStore(StoreLock taken, DbConnection connection, EvidenceAppender evidence, StoreReader reader,
        RecordKeeper? record, TimeProvider time)
    {
        (_lock, _connection, _evidence) = (taken, connection, evidence);
        (Reader, _record, _time) = (reader, record, time);
        _keeping = new EvidenceKeeping(connection, evidence);
    }

    public StoreReader Reader { get; }

    /// <summary>What of the kept evidence was found missing at opening, in a sentence; null for nothing.</summary>
    public string? Damage => _evidence.Damage;

    /// <summary>What alerts make of the findings that are recorded; null where nobody asks.</summary>
    public AlertLook? Alerting { get; set; }

    /// <summary>Called when something was recorded that is to be told.</summary>
    public Action? OnAlerts { get; set; }

    public string Folder => Reader.Folder;

    /// <summary>Where alerts say what they do.</summary>
    public OutboxWriter Outbox => field ??= new OutboxWriter(WriteAsync, word => _record?.Say(word), _time);

    /// <summary>Called at each step of a write, for tests that stop there.</summary>
    internal Action<StoreStep>? OnStep { get; set; }

    /// <summary>How the record stands; null for a store without one.</summary>
    public RecordStanding? Record => _record?.Standing;

    /// <summary>Opens or begins the store in a folder, with its record, and takes its lock.</summary>
    public static Task<AuditStore> OpenAsync(
        StoreConfig place, RecordOptions options, TimeProvider time, CancellationToken token) =>
        StoreRights.NeededAsync(
            place.Folder, () => OpenWithAsync(StoreDatabase.Of(place), options, time, token));

    /// <summary>The same where rows and evidence are both in a folder.</summary>
    public static Task<AuditStore> OpenAsync(
        string folder, RecordOptions options, TimeProvider time, CancellationToken token) =>
        OpenAsync(new StoreConfig(folder, null), options, time, token);

    /// <summary>A store that keeps no record, for work that is thrown away.</summary>
    public static Task<AuditStore> OpenScratchAsync(string folder, TimeProvider time, CancellationToken token) =>
        OpenWithAsync(new SqliteDatabase(folder), null, time, token);

    private static async Task<AuditStore> OpenWithAsync(
        StoreDatabase database, RecordOptions? options, TimeProvider time, CancellationToken token)
    {
        var folder = database.Folder;
        // Before anything is made there, so that a copy can be put back.
        if (options is not null && !database.MayBeThere)
            RecordHome.RequireNoneBefore(folder, options);
        Directory.CreateDirectory(folder);
        LocalFolder.Require(folder);
        var taken = StoreLock.Take(folder, time.GetUtcNow());
        DbConnection? connection = null;
        try
        {
            connection = await database.OpenWriterAsync(token);
            await database.PrepareAsync(connection, time.GetUtcNow(), token);
            await database.RequireFolderAsync(connection, token);
            var record = options is null
                ? null
                : await RecordKeeper.OpenAsync(connection, database, options, time, token);
            using var names = new EvidenceFolder(folder);
            var standing = await SegmentStanding.OfAsync(connection, names, token);
            // A process that pruned may have died before the files were gone. After the record was opened: it refuses
            // a database that is older than its checkpoints, and whose rows would not be right about the files.
            standing.TakeAway(names);
            return new AuditStore(
                taken, connection, EvidenceAppender.Open(names, standing), new StoreReader(database), record, time);
        }
        catch (Exception)
        {
            if (connection is not null) await connection.DisposeAsync();
            taken.Dispose();
            throw;
        }
    }

    /// <summary>
    /// Takes in a batch: its evidence, arrivals and positions, all or nothing. An arrival that is known already is no
    /// error. Returns the ids that were new; they are unread now. Several hundred at a time cost little more than one.
    /// </summary>
    public Task<IReadOnlySet<string>> TakeInAsync(TakeInBatch batch, CancellationToken token) =>
        WriteAsync(async transaction =>
        {
            var given = batch.Arrivals;
            var known = await ArrivalTable.KnownAsync(transaction, given.Select(taken => taken.Arrival.Id), token);
            var fresh = given.Where(taken => known.Add(taken.Arrival.Id)).ToList();
            var places = await _keeping.AppendAsync(transaction, fresh, OnStep, token);
            try
            {
                await BlobTable.InsertAsync(transaction, places, token);
                await ArrivalTable.InsertAsync(transaction, fresh.Select(taken => taken.Arrival), token);
                await UnreadTable.AddAsync(transaction, fresh.Select(taken => taken.Arrival.Id), token);
                await MovePositionsAsync(transaction, batch.Positions, token);
                foreach (var taken in fresh) _record?.Say(StoreWords.Of(taken.Arrival));
            }
            catch (Exception)
            {
                _evidence.Disown(places);
                throw;
            }
            IReadOnlySet<string> ids = fresh.Select(taken => taken.Arrival.Id).ToHashSet(StringComparer.Ordinal);
            return ids;
        }, token);

    /// <summary>
    /// Keeps what was read of arrivals, which are unread no longer, and marks what must be folded again.
    /// </summary>
    public Task PutReadAsync(ReadBatch batch, CancellationToken token) => WriteAsync(async transaction =>
    {
        await SightingTable.PutAsync(transaction, batch.Sightings, token);
        await ShelfTable.PutAsync(transaction, batch.Machine, batch.Shelf, token);
        var words = batch.Rows.Select(row => DerivedWord.Of(batch.Machine, row));
        await _derived.PutAsync(transaction, words, _time.GetUtcNow(), token);
        await UnreadTable.DeleteAsync(
            transaction, batch.Machine, batch.Arrivals.Select(arrival => arrival.Seq), token);
        foreach (var (machine, mark) in batch.Dirty) await DirtyTable.PutAsync(transaction, machine, mark, token);
    }, token);

    /// <summary>
    /// Makes every arrival of a machine unread again, and forgets all that was read of them and folded: how files are
    /// read has changed.
    /// </summary>
    public Task ReadAgainAsync(string machine, CancellationToken token) => WriteAsync(async transaction =>
    {
        await SightingTable.DeleteAsync(transaction, machine, token);
        await ShelfTable.DeleteAsync(transaction, machine, token);
        await KeptTable.DeleteAllAsync(transaction, machine, token);
        await UnreadTable.AddAllAsync(transaction, machine, token);
        await DirtyTable.PutAsync(transaction, machine,
            new DirtyMark(SightingPosition.Before(DateTimeOffset.MinValue), ByLookUp: true), token);
    }, token);

    /// <summary>Notes that a machine's fold is up to date.</summary>
    public Task ClearDirtyAsync(string machine, CancellationToken token) =>
        WriteAsync(transaction => DirtyTable.DeleteAsync(transaction, machine, token), token);

    /// <summary>Records a later horizon. One that is not later changes nothing.</summary>
    public Task GrowHorizonAsync(string machine, DateTimeOffset horizonUtc, CancellationToken token) => WriteAsync(
        transaction => HorizonTable.GrowAsync(transaction, machine, horizonUtc, _time.GetUtcNow(), token), token);

    /// <summary>Records that a source is left out from now on, or no longer, and what must be folded again.</summary>
    public Task PutGapAsync(string machine, SourceGap gap, bool isOver, CancellationToken token) => WriteAsync(
        async transaction =>
        {
            await GapTable.AddAsync(transaction, machine, gap, isOver, _time.GetUtcNow(), token);
            await DirtyTable.PutAsync(
                transaction, machine, new DirtyMark(SightingPosition.Before(gap.ReadUntilUtc), ByLookUp: false), token);
        }, token);

    /// <summary>Appends what differs from what is recorded, and says what was raised, changed and withdrawn.</summary>
    public async Task<IReadOnlyList<DerivedChange>> ReplaceDerivedAsync(DerivedBatch batch, CancellationToken token)
    {
        var toTell = false;
        var changes = await WriteAsync(async transaction =>
        {
            var nowUtc = _time.GetUtcNow();
            if (batch.HorizonUtc is { } horizon)
                await HorizonTable.GrowAsync(transaction, batch.Machine, horizon, nowUtc, token);
            var changes = await _derived.ReplaceAsync(transaction, batch, nowUtc, token);
            foreach (var change in changes.Where(change => change.Kind == DerivedKind.Finding))
                _record?.Say(StoreWords.Of(batch.Machine, change, batch.WithdrawnBecause));
            if (Alerting is not { } look) return changes;
            foreach (var alert in await AlertTable.LookAsync(transaction, batch, changes, look, nowUtc, token))
            {
                toTell = true;
                _record?.Say(OutboxWords.Of(alert));
            }
            return changes;
        }, token);
        if (toTell) OnAlerts?.Invoke();
        return changes;
    }

    /// <summary>Keeps the state before the sighting at a position.</summary>
    public Task KeepStateAsync(
        string machine, SightingPosition position, ReadOnlyMemory<byte> state, CancellationToken token) =>
        WriteAsync(transaction => KeptTable.PutAsync(transaction, machine, position, state, token), token);

    /// <summary>Lets go of the states kept behind a position: what they rest on has changed.</summary>
    public Task ForgetStatesAfterAsync(string machine, SightingPosition position, CancellationToken token) =>
        WriteAsync(transaction => KeptTable.DeleteAfterAsync(transaction, machine, position, token), token);

    /// <summary>Lets go of the states kept at these positions.</summary>
    public Task ForgetStatesAsync(string machine, IReadOnlyList<SightingPosition> positions, CancellationToken token) =>
        WriteAsync(transaction => KeptTable.DeleteAsync(transaction, machine, positions, token), token);

    /// <summary>Keeps what people did, all or nothing; what is kept already is left out.</summary>
    public Task PutPeopleAsync(PeopleBatch batch, CancellationToken token) => WriteAsync(
        transaction => PeopleRecord.PutAsync(transaction, batch, word => _record?.Say(word), token), token);

    /// <summary>Records a start, and another configuration than the last with its bytes.</summary>
    public Task RecordStartAsync(StartRecord start, CancellationToken token) => WriteAsync(async transaction =>
    {
        var before = await StartTable.LatestAsync(_connection, token, transaction);
        await StartTable.InsertAsync(transaction, start, token);
        if (before?.ConfigurationSha256 != start.ConfigurationSha256)
        {
            if (!start.Configuration.IsEmpty)
                await _keeping.KeepAsync(transaction, start.ConfigurationSha256, start.Configuration, token);
            _record?.Say(StoreWords.Changed(before, start));
        }
        _record?.Say(StoreWords.Of(start));
    }, token);

    /// <summary>Says in the record that a command that wrote here ends as it should.</summary>
    public Task RecordStopAsync(string command, CancellationToken token) =>
        SayAsync([StoreWords.Stopped(command)], token);

    /// <summary>Says something in the record that has no rows of its own.</summary>
    public Task SayAsync(IReadOnlyList<RecordWord> words, CancellationToken token) => WriteAsync(_ =>
    {
        foreach (var word in words) _record?.Say(word);
        return Task.CompletedTask;
    }, token);

    /// <summary>
    /// Appends the newest checkpoint to the files that are kept apart from the database, where it was not yet. The
    /// service does it every moment; closing the store does it too.
    /// </summary>
    public async Task AnchorAsync(CancellationToken token)
    {
        if (_record is null) return;
        await _gate.WaitAsync(token);
        try
        {
            if (!_failed) _record.Anchor();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw Failed(fault);
        }
        finally
        {
            _gate.Release();
        }
    }

    /// <summary>
    /// Has another key sign the record from here on, and destroys the old one. Returns the key to write down. The order
    /// is: the new key on disk, the entry and a checkpoint that both signed, the anchors, only then the old key.
    /// </summary>
    public async Task<VerifierKey> RotateKeyAsync(KeyOrder order, CancellationToken token)
    {
        var record = _record ?? throw new InvalidOperationException("a store without a record has no key");
        await WriteAsync(_ =>
        {
            record.BeginNextKey(order);
            OnStep?.Invoke(StoreStep.KeyMade);
            return Task.CompletedTask;
        }, token);
        await AnchorAsync(token);
        record.EndFormerKey(OnStep);
        return record.Key;
    }

    /// <summary>
    /// Drops evidence. What goes is said first, with who and why, and the state that each machine goes on from is kept;
    /// that is signed and anchored; only then the files go.
    /// </summary>
    public async Task PruneAsync(PruneOrder order, CancellationToken token)
    {
        using var evidence = new EvidenceFolder(Folder);
        var dropping = new EvidenceDropping(_connection, _evidence, evidence);
        await WriteAsync(async transaction =>
        {
            await PeopleRecord.PutAsync(
                transaction, new PeopleBatch { SignIns = order.SignIns }, word => _record?.Say(word), token);
            var number = await PruningTable.InsertAsync(transaction, order, token);
            await dropping.DropAsync(transaction, order, number, OnStep, token);
            foreach (var (line, state) in order.Lines)
            {
                await _keeping.KeepAsync(transaction, line.StateSha256, state, token);
                await PruningTable.InsertLineAsync(transaction, number, line, token);
            }
            _record?.Say(PruneWords.Of(order));
        }, token);
        await AnchorAsync(token);
        OnStep?.Invoke(StoreStep.PruneAnchored);
        (await SegmentStanding.OfAsync(_connection, evidence, token)).TakeAway(
            evidence, () => OnStep?.Invoke(StoreStep.PruneGone));
    }

    /// <summary>Notes that all that is derived of a machine is now for this configuration and program.</summary>
    public Task MarkDerivedForAsync(
        string machine, string configurationSha256, string programVersion, CancellationToken token) => WriteAsync(
        transaction => StartTable.MarkDerivedForAsync(transaction, machine, configurationSha256, programVersion, token),
        token);

    public async ValueTask DisposeAsync()
    {
        await EndRecordAsync();
        Reader.Dispose();
        _evidence.Dispose();
        _derived.Dispose();
        // The last connection to close folds the write-ahead log back into the database.
        await _connection.DisposeAsync();
        _lock.Dispose();
        _gate.Dispose();
    }

    private async Task EndRecordAsync()
    {
        if (_record is null) return;
        try
        {
            if (!_failed) _record.Anchor();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // What is committed is safe; the next start appends what this one could not.
            Log.Error(fault, "The newest checkpoint could not be appended to its file");
        }
        await _record.DisposeAsync();
    }

    private static async Task MovePositionsAsync(
        DbTransaction transaction, IReadOnlyList<SourcePosition> positions, CancellationToken token)
    {
        await PositionTable.PutAsync(transaction, positions.Where(position => position.State is not null), token);
        await PositionTable.DeleteAsync(transaction, positions.Where(position => position.State is null), token);
    }

    private Task<bool> WriteAsync(Func<DbTransaction, Task> work, CancellationToken token) => WriteAsync(
        async transaction =>
        {
            await work(transaction);
            return true;
        }, token);

    private async Task<T> WriteAsync<T>(Func<DbTransaction, Task<T>> work, CancellationToken token)
    {
        await _gate.WaitAsync(token);
        try
        {
            if (_failed) throw new StoreException("A write to the store failed; it must be closed and opened again.");
            await using var transaction = await _connection.BeginTransactionAsync(token);
            var result = await work(transaction);
            // What is said of it, and the digests of its rows, are committed with the rows or not at all.
            if (_record is not null) await _record.WriteAsync(transaction, _time.GetUtcNow(), token);
            OnStep?.Invoke(StoreStep.RowsWritten);
            await transaction.CommitAsync(token);
            _record?.Committed();
            OnStep?.Invoke(StoreStep.Committed);
            return result;
        }
        catch (Exception fault)
        {
            _derived.Forget();
            _record?.Forget();
            if (fault is SourceFault { InnerException: { } source }) ExceptionDispatchInfo.Throw(source);
            if (fault is DbException or IOException or UnauthorizedAccessException) throw Failed(fault);
            throw;
        }
        finally
        {
            _gate.Release();
        }
    }

    // After a failed flush the system may report the next one as good though the bytes are gone.
    private StoreException Failed(Exception fault)
    {
        _failed = true;
        return Reader.Database.Failed(fault);
    }
}
