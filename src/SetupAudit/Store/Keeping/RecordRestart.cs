using Dapper;
using Microsoft.Data.Sqlite;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Keeping;

/// <summary>
/// Ends a record that cannot be gone on with, such as a copy that is older than the checkpoints kept elsewhere: it is
/// set aside whole, to be read and verified for ever, and a new record begins over the same rows and says so.
/// </summary>
internal static class RecordRestart
{
    private const string FolderName = "former";

    // The only place that empties these tables: what they held was copied aside before.
    private const string EmptySql = """
        DROP TRIGGER entry_delete;
        DROP TRIGGER checkpoint_delete;
        DELETE FROM entry;
        DELETE FROM checkpoint;
        DELETE FROM scratch_frontier;
        DELETE FROM scratch_sealed;
        CREATE TRIGGER entry_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entry is append-only'); END;
        CREATE TRIGGER checkpoint_delete BEFORE DELETE ON checkpoint
            BEGIN SELECT RAISE(ABORT, 'checkpoint is append-only'); END;
        """;

    /// <summary>Whether a record was ever set aside in the folder of a store.</summary>
    public static bool HasBeen(string folder) => Directory.Exists(Path.Combine(folder, FolderName));

    /// <summary>Sets aside the record of a folder that nobody writes; the word says what came before.</summary>
    public static async Task<RecordWord> SetAsideAsync(
        string folder, string by, string reason, CancellationToken token)
    {
        var database = Path.Combine(folder, SqliteDatabase.FileName);
        await using var connection = new SqliteConnection($"Data Source={database};Pooling=False");
        await connection.OpenAsync(token);
        var last = await CheckpointTable.LastAsync(connection, token);
        var origin = await StoreCopy.OriginAsync(folder, token);
        SqliteDatabase.ForgetReaders(folder);
        if (last is null || origin is null)
            throw new StoreException(StoreFaultKind.Final, $"The copy in {folder} has no record that could be ended.");
        var aside = Path.Combine(folder, FolderName, origin.Replace('/', '-'));
        Directory.CreateDirectory(aside);
        FileCopy.Copy(database, Path.Combine(aside, SqliteDatabase.FileName));
        var anchors = Path.Combine(folder, AnchorFile.FileName);
        if (File.Exists(anchors)) FileCopy.Copy(anchors, Path.Combine(aside, AnchorFile.FileName));
        var stamps = StampFolder.OfStore(folder);
        stamps.CopyTo(StampFolder.OfStore(aside));
        FileCopy.FlushNames(aside);
        await using (var transaction = await connection.BeginTransactionAsync(token))
        {
            await connection.ExecuteAsync(new CommandDefinition(EmptySql, null, transaction, cancellationToken: token));
            await transaction.CommitAsync(token);
        }
        File.Delete(anchors);
        stamps.Delete();
        return new RecordWord(RecordKind.Keeping, Said.Of(json =>
        {
            json.WriteString("did", "begun-anew");
            json.WriteString("former", origin);
            json.WriteNumber("formerSize", last.Size);
            json.WriteString("formerRoot", Convert.ToBase64String(last.Root));
            json.WriteString("by", by);
            json.WriteString("reason", reason);
        }));
    }
}
