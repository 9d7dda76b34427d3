using Dapper;
using Microsoft.Data.Sqlite;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Segments;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Keeping;

/// <summary>
/// Copies a store into another folder while a service may write it: checkpoints first, then the database as it stands
/// at one moment, then the evidence, which only grows. So the copy holds all that its rows point to, and its
/// checkpoints are never ahead of it. The key that signs is not part of it.
/// </summary>
public static class StoreCopy
{
    private const string NextEnding = ".next";

    /// <summary>Whether a folder holds a copy.</summary>
    public static bool IsIn(string folder) => File.Exists(Path.Combine(folder, SqliteDatabase.FileName));

    /// <summary>Makes or renews a copy; only evidence that is not there yet is copied.</summary>
    public static async Task<CopyReport> MakeAsync(string store, string target, CancellationToken token)
    {
        if (!File.Exists(Path.Combine(store, SqliteDatabase.FileName)))
            throw new StoreException(StoreFaultKind.Final,
                $"There is no record in {store} yet. The commands 'once' and 'run' begin one.");
        Directory.CreateDirectory(Path.Combine(target, EvidenceFolder.Name));
        await RequireSameRecordAsync(store, target, token);
        var anchors = Path.Combine(store, AnchorFile.FileName);
        if (File.Exists(anchors)) FileCopy.Copy(anchors, Path.Combine(target, AnchorFile.FileName + NextEnding));
        // Only those there are by now: their checkpoints are in the database that is copied next.
        var stamps = StampFolder.OfStore(store);
        var stamped = stamps.Sizes();
        var entries = await CopyDatabaseAsync(store, target, token);
        var (segments, bytes) = CopyEvidence(store, target, token);
        PutInPlace(target);
        stamps.CopyTo(StampFolder.OfStore(target), stamped);
        return new CopyReport(entries, segments, bytes);
    }

    /// <summary>
    /// What was dropped from the store goes from its copy too. Only from one that was verified: rows that nobody sealed
    /// must not make it lose anything.
    /// </summary>
    public static async Task LetGoAsync(string target, CancellationToken token)
    {
        using var copies = new EvidenceFolder(target);
        await using (var copy = await SqliteDatabase.OpenReaderAsync(target, token))
            if (await MigrationSet.Own.IsOwnAsync(copy, target, token))
                (await SegmentStanding.OfAsync(copy, copies, token)).TakeAway(copies);
        SqliteDatabase.ForgetReaders(target);
    }

    // A folder that holds the copy of another record would lose it.
    private static async Task RequireSameRecordAsync(string store, string target, CancellationToken token)
    {
        if (!File.Exists(Path.Combine(target, SqliteDatabase.FileName))) return;
        var (own, there) = (await OriginAsync(store, token), await OriginAsync(target, token));
        SqliteDatabase.ForgetReaders(target);
        if (own != there)
            throw new StoreException(StoreFaultKind.Final,
                $"{target} holds a copy of another record ({there ?? "one without a name"}); it is left as it is. Name "
                + "another folder.");
    }

    /// <summary>The name of the record in a folder; null where it has none.</summary>
    internal static async Task<string?> OriginAsync(string folder, CancellationToken token)
    {
        await using var connection = await SqliteDatabase.OpenReaderAsync(folder, token);
        var first = await EntryTable.PageAsync(connection, 0, 1, 1, token);
        return first.Count == 0 ? null : RecordBody.Read(first[0].Body)?.Origin;
    }

    private const string CheckSql = "PRAGMA integrity_check(1)";

    private const string RestSql = "PRAGMA journal_mode=DELETE";

    private static async Task<long> CopyDatabaseAsync(string store, string target, CancellationToken token)
    {
        var draft = Path.Combine(target, SqliteDatabase.FileName + ".new");
        File.Delete(draft);
        long entries;
        await using (var source = await SqliteDatabase.OpenReaderAsync(store, token))
        await using (var copy = new SqliteConnection($"Data Source={draft};Pooling=False"))
        {
            await copy.OpenAsync(token);
            source.BackupDatabase(copy);
            // One file is easier to keep than a database with its log beside it.
            await copy.ExecuteAsync(new CommandDefinition(RestSql, cancellationToken: token));
            var check = new CommandDefinition(CheckSql, cancellationToken: token);
            var answer = await copy.ExecuteScalarAsync<string>(check);
            if (answer != "ok")
                throw new StoreException(StoreFaultKind.Final, $"The copied database is not whole: {answer}.");
            entries = await EntryTable.CountAsync(copy, token);
            await AnchorAsync(copy, new AnchorFile(Path.Combine(target, AnchorFile.FileName + NextEnding)), token);
        }
        using var file = File.OpenHandle(draft, FileMode.Open, FileAccess.ReadWrite);
        RandomAccess.FlushToDisk(file);
        return entries;
    }

    // The file was copied before the database, which may have grown since; its own checkpoint is signed like any.
    private static async Task AnchorAsync(SqliteConnection copy, AnchorFile anchors, CancellationToken token)
    {
        var first = await EntryTable.PageAsync(copy, 0, 1, 1, token);
        var last = await CheckpointTable.LastAsync(copy, token);
        if (first.Count == 0 || last is null || RecordBody.Read(first[0].Body) is not { } begin) return;
        if (last.ToNote(begin.Origin) is { } note && note.Text != anchors.Last()?.Text) anchors.Append(note);
    }

    private static (int Segments, long Bytes) CopyEvidence(string store, string target, CancellationToken token)
    {
        using var source = new EvidenceFolder(store);
        using var copies = new EvidenceFolder(target);
        var (count, bytes) = (0, 0L);
        foreach (var segment in source.Segments())
        {
            token.ThrowIfCancellationRequested();
            var (from, to) = (source.SegmentPath(segment), copies.SegmentPath(segment));
            var length = new FileInfo(from).Length;
            // A segment only grows: one of the same length has the same bytes.
            if (File.Exists(to) && new FileInfo(to).Length == length) continue;
            FileCopy.Copy(from, to, length);
            (count, bytes) = (count + 1, bytes + length);
        }
        if (count > 0) FileCopy.FlushNames(copies.Folder);
        return (count, bytes);
    }

    private static void PutInPlace(string target)
    {
        var database = Path.Combine(target, SqliteDatabase.FileName);
        foreach (var beside in new[] { "-wal", "-shm" }) File.Delete(database + beside);
        File.Move(database + ".new", database, overwrite: true);
        var anchors = Path.Combine(target, AnchorFile.FileName);
        if (File.Exists(anchors + NextEnding)) File.Move(anchors + NextEnding, anchors, overwrite: true);
        FileCopy.FlushNames(target);
    }
}
