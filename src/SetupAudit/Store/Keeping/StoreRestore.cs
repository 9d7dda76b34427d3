using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Stamps;

namespace SetupAudit.Store.Keeping;

/// <summary>
/// Puts a copy of a store back. It is opened as any start opens it: compared with the checkpoints beside it and off the
/// computer, and refused where they know of more than the copy holds, for going on would sign a second history.
/// </summary>
public static class StoreRestore
{
    /// <summary>Puts the copy back and goes on with its record.</summary>
    public static async Task<long> GoOnAsync(
        string copy, string folder, RecordOptions options, TimeProvider time, CancellationToken token)
    {
        RequirePlace(copy, folder);
        RequireKey(folder, options);
        PutBack(copy, folder, token);
        try
        {
            await using var store = await AuditStore.OpenAsync(folder, options, time, token);
            await store.SayAsync([Restored(copy)], token);
            return store.Record?.Size ?? 0;
        }
        catch (StoreException fault) when (fault.Kind == StoreFaultKind.Final)
        {
            TakeAway(folder);
            throw new StoreException(StoreFaultKind.Final, $"The copy in {copy} is not put back. {fault.Message} "
                + "To set its record aside and begin a new one over the same rows, give --new-record with --by "
                + "and --reason.",
                fault);
        }
    }

    /// <summary>Puts the copy back, sets its record aside and begins a new one over the same rows.</summary>
    public static async Task<long> BeginAnewAsync(string copy, string folder, RecordOptions options, string by,
        string reason, TimeProvider time, CancellationToken token)
    {
        RequirePlace(copy, folder);
        PutBack(copy, folder, token);
        var word = await RecordRestart.SetAsideAsync(folder, by, reason, token);
        await using var store = await AuditStore.OpenAsync(folder, options, time, token);
        await store.SayAsync([Restored(copy), word], token);
        return store.Record?.Size ?? 0;
    }

    private static void RequireKey(string folder, RecordOptions options)
    {
        var key = RecordHome.KeyPath(folder, options);
        if (!File.Exists(key))
            throw new StoreException(StoreFaultKind.Final, "The key that signs the record is not part of a copy. Put "
                + $"it back to {key}, readable by this account only, from where you keep it; then try again. Where it "
                + "is lost for good, nobody can go on with this record: --new-record with --by and --reason sets it "
                + "aside in the folder 'former', to be read and verified for ever with the key that was written down, "
                + "and begins a new one over the same rows, with a new key.");
    }

    private static void RequirePlace(string copy, string folder)
    {
        if (!File.Exists(Path.Combine(copy, SqliteDatabase.FileName)))
            throw new StoreException(StoreFaultKind.Final, $"There is no copy of a store in {copy}.");
        var log = new FileInfo(Path.Combine(copy, SqliteDatabase.FileName + "-wal"));
        if (log is { Exists: true, Length: > 0 })
            throw new StoreException(StoreFaultKind.Final, $"{copy} holds a store that is open or was not closed, and "
                + "no copy of one: 'backup' makes a copy.");
        if (File.Exists(Path.Combine(folder, SqliteDatabase.FileName)))
            throw new StoreException(StoreFaultKind.Final, $"{folder} holds a store already, and it is left as it is. "
                + "Move it aside first: it may be needed to find out what happened.");
        LocalFolder.Require(folder);
    }

    private static void PutBack(string copy, string folder, CancellationToken token)
    {
        Directory.CreateDirectory(Path.Combine(folder, EvidenceFolder.Name));
        foreach (var path in Directory.EnumerateFiles(Path.Combine(copy, EvidenceFolder.Name), "segment-*.seg"))
        {
            token.ThrowIfCancellationRequested();
            FileCopy.Copy(path, Path.Combine(folder, EvidenceFolder.Name, Path.GetFileName(path)));
        }
        FileCopy.FlushNames(Path.Combine(folder, EvidenceFolder.Name));
        var anchors = Path.Combine(copy, AnchorFile.FileName);
        if (File.Exists(anchors)) FileCopy.Copy(anchors, Path.Combine(folder, AnchorFile.FileName));
        StampFolder.OfStore(copy).CopyTo(StampFolder.OfStore(folder));
        // The database last: a store is there when it is, and a restore that was broken off can be tried again.
        FileCopy.Copy(Path.Combine(copy, SqliteDatabase.FileName), Path.Combine(folder, SqliteDatabase.FileName));
        FileCopy.FlushNames(folder);
    }

    // Only what was just put there: the evidence may stay, for the next try copies it again.
    private static void TakeAway(string folder)
    {
        foreach (var name in new[] { "", "-wal", "-shm" })
            File.Delete(Path.Combine(folder, SqliteDatabase.FileName + name));
        File.Delete(Path.Combine(folder, AnchorFile.FileName));
        StampFolder.OfStore(folder).Delete();
    }

    private static RecordWord Restored(string copy) => new(RecordKind.Keeping, Said.Of(json =>
    {
        json.WriteString("did", "restored");
        json.WriteString("from", copy);
    }));
}
