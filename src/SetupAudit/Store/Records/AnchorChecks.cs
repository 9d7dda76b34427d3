using System.Data.Common;
using System.Globalization;
using SetupAudit.Records;
using SetupAudit.Store.Tables;

namespace SetupAudit.Store.Records;

/// <summary>
/// Compares the last checkpoint of an anchor file with the record: the file may be behind, but what it says must be
/// part of the record's own history.
/// </summary>
internal static class AnchorChecks
{
    /// <summary>Throws where the file says something else than the record, with what a person must do.</summary>
    public static async Task RequireAsync(DbConnection connection, AnchorFile anchor, string origin,
        StoredCheckpoint last, CancellationToken token)
    {
        if (await ConflictAsync(connection, anchor.Last(), origin, last, token) is { } conflict)
            throw new StoreException(StoreFaultKind.Final, $"{Path.GetFileName(anchor.Path)} {conflict}. The database "
                + "may be an older copy that was put back, or was altered. Nothing was written: a second history is "
                + "never signed. Put back the newest copy of the whole folder, or keep this one aside and begin a new "
                + $"one ({anchor.Path}).");
    }

    /// <summary>What the last note of an anchor says against the record, in words; null where nothing.</summary>
    public static async Task<string?> ConflictAsync(DbConnection connection, SignedNote? note, string origin,
        StoredCheckpoint last, CancellationToken token)
    {
        if (note is null) return null;
        if (!Checkpoint.TryRead(note.Text, out var anchored, out var reason))
            return $"ends with a note that is no checkpoint: {reason}";
        if (anchored.Origin != origin)
            return $"belongs to the record {anchored.Origin}, and this one is {origin}";
        if (anchored.Size > last.Size)
            return string.Create(CultureInfo.InvariantCulture,
                $"holds a checkpoint over {anchored.Size} entries, and the record has {last.Size}");
        var own = await CheckpointTable.OfSizeAsync(connection, anchored.Size, token);
        return own is null || TreeHash.From(own.Root) != anchored.Root
            ? string.Create(CultureInfo.InvariantCulture,
                $"holds a checkpoint over {anchored.Size} entries that the record never had")
            : null;
    }
}
