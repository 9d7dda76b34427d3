using System.Data.Common;
using System.Globalization;
using SetupAudit.Shop;
using SetupAudit.Store.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Checks the whole record of a store from one snapshot of it, beside a service or without one. It writes nothing, and
/// what it cannot check is a fault.
/// </summary>
public static class StoreVerifier
{
    public static async Task<RecordCheck> RunAsync(VerifyOptions options, CancellationToken token)
    {
        var faults = new FaultList();
        var database = StoreDatabase.Of(new StoreConfig(options.Folder, options.Postgres));
        var isThere = database.MayBeThere;
        if (!isThere)
            faults.Add(FaultCode.NoStore,
                $"there is no record in {options.Folder}: {database.Name} is not there");
        // A service that ends while this goes on has anchored what it wrote, but after the files were looked at.
        var check = new RecordCheck
        {
            KeyWasGiven = options.Pinned is not null,
            IsWritten = StoreLock.IsHeld(options.Folder),
        };
        // Lengths before the snapshot: an anchor that is read later may know more than the snapshot does.
        var anchor = Path.Combine(options.Folder, AnchorFile.FileName);
        var anchorLength = LengthOf(anchor, faults);
        var offBox = OffBoxFiles(options.OffBoxFolder, faults);
        var stamps = new StampWalk(options, faults);
        if (isThere)
            try
            {
                await using var connection = await database.OpenReaderAsync(token);
                await using var snapshot = await database.SnapshotAsync(connection, token);
                if (!IsEmpty(database, connection))
                    check = Walk(database, connection, options, faults, [(anchor, anchorLength, false), .. offBox],
                        stamps, check, token);
                else faults.Add(FaultCode.NoStore,
                    $"there is no record in {database.Place}: {database.Name} holds no table");
            }
            // That a server went away says nothing of what it keeps.
            catch (Exception fault) when (fault is DbException { IsTransient: false } or InvalidCastException
                or IOException or UnauthorizedAccessException or OverflowException)
            {
                faults.Add(FaultCode.Damaged, $"{database.Name} cannot be read to its end: {fault.Message}");
            }
            finally
            {
                database.ForgetReaders();
            }
        return check with
        {
            VerifiedTo = check.Origin is null ? 0 : Math.Min(faults.First ?? check.Entries, check.VerifiedTo),
            Faults = faults.Ordered,
            FaultCount = faults.Count,
        };
    }

    private static bool IsEmpty(StoreDatabase database, DbConnection connection)
    {
        using var tables = connection.Read(database.Dialect.TablesSql);
        return !tables.Read();
    }

    private static RecordCheck Walk(StoreDatabase database, DbConnection connection, VerifyOptions options,
        FaultList faults, IReadOnlyList<(string Path, long Length, bool IsOffBox)> files, StampWalk stampWalk,
        RecordCheck check, CancellationToken token)
    {
        if (database.Damage(connection) is { } damage)
            faults.Add(FaultCode.Damaged, $"the database is damaged: {damage}");
        // The first read has taken the snapshot: one that begins to write later adds nothing to it.
        var isWritten = check.IsWritten || StoreLock.IsHeld(options.Folder);
        SchemaCheck.Run(connection, database, faults);
        using var seals = new SealWalk(connection, database.Dialect, faults);
        var walk = new EntryWalk(database, connection, faults, seals, options);
        walk.Run(token);
        if (options.Pinned is { } pinned && walk.Entries > 0 && !walk.Keys.Knows(pinned))
            faults.Add(FaultCode.OtherKey, 0, $"the record {walk.Keys.Mismatch(pinned)}");
        var anchors = new List<AnchorState>();
        IReadOnlyList<StampState> stamps = [];
        if (walk.Origin is { } origin)
        {
            var compare = new AnchorWalk(connection, faults, walk.Keys, origin, walk.Entries);
            foreach (var (path, length, isOffBox) in files.Where(file => !file.IsOffBox || IsOf(origin, file.Path)))
                anchors.Add(compare.Compare(path, length, isOffBox));
            if (options.OffBoxFolder is { } folder && !anchors.Exists(one => one.IsOffBox))
                faults.Add(FaultCode.AnchorMissing, $"{folder} holds no checkpoints of this record, {origin}");
            stamps = stampWalk.Compare(compare, origin);
        }
        foreach (var behind in anchors.Where(one => one.Size > 0 && one.Size < walk.Entries && !isWritten))
            faults.Add(FaultCode.NotAnchored, behind.Size,
                $"the entries {behind.Size} to {walk.Entries - 1} are not anchored in {behind.Path}, and no service "
                + $"is running that would do it");
        var evidence = new EvidenceWalk(database, connection, faults, options);
        return check with
        {
            Origin = walk.Origin,
            Key = walk.Keys.Last?.ToString(),
            Entries = walk.Entries,
            VerifiedTo = walk.Good,
            Anchors = anchors,
            Stamps = stamps,
            Checkpoints = walk.Checkpoints,
            Rows = seals.Rows,
            IsWritten = isWritten,
            Evidence = options.WithEvidence ? evidence.Run(token) : null,
            Remarks = [.. database.Remarks(connection), .. Remarks(walk), .. evidence.Dropped(), .. stampWalk.Remarks],
        };
    }

    private static IEnumerable<string> Remarks(EntryWalk walk)
    {
        if (walk.SetBack.Count > 0)
            yield return string.Create(CultureInfo.InvariantCulture,
                $"The clock was set back {walk.SetBack.Count} times while the record was written, first at entry "
                + $"{walk.SetBack.First}; the order of entries does not rest on it.");
    }

    private static long LengthOf(string path, FaultList faults)
    {
        try
        {
            return File.Exists(path) ? new FileInfo(path).Length : 0;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            faults.Add(FaultCode.NotReadable, $"{path} cannot be read: {fault.Message}");
            return 0;
        }
    }

    private static List<(string Path, long Length, bool IsOffBox)> OffBoxFiles(string? folder, FaultList faults)
    {
        if (folder is null) return [];
        if (!Directory.Exists(folder))
        {
            faults.Add(FaultCode.AnchorMissing, $"the folder {folder}, where checkpoints are copied to, is not there");
            return [];
        }
        return
        [
            .. Directory.EnumerateFiles(folder, "*." + AnchorFile.FileName).Order(StringComparer.Ordinal)
                .Select(path => (path, LengthOf(path, faults), true)),
        ];
    }

    private static bool IsOf(string origin, string path) => Path.GetFileName(path) == OffBoxCopy.FileNameOf(origin);
}
