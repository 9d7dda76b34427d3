using System.Data.Common;
using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Records;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Compares the checkpoints kept apart from the database with those in it. Such a file may be behind, never ahead, and
/// must not say anything else.
/// </summary>
internal sealed class AnchorWalk(
    DbConnection connection, FaultList faults, KeyHistory keys, string origin, long entries)
{
    /// <summary>
    /// The state of one file, whose length was taken before the record was opened: what was appended since may be newer
    /// than what is read of it.
    /// </summary>
    public AnchorState Compare(string path, long length, bool isOffBox)
    {
        var size = 0L;
        var unfinished = false;
        var count = 0;
        if (length > 0)
        {
            using var text = new StreamReader(new FirstBytes(path, length), Encoding.UTF8);
            foreach (var note in AnchorFile.Notes(text))
            {
                if (unfinished)
                    faults.Add(FaultCode.AnchorUnreadable,
                        $"{path} holds something after its checkpoint {count} that is none");
                unfinished = note is null;
                if (note is null) continue;
                count++;
                if (Take(path, note) is { } next) size = Math.Max(size, next);
            }
        }
        if (count == 0)
            faults.Add(FaultCode.AnchorMissing, $"{path} holds no checkpoint: the record is anchored nowhere there");
        return new AnchorState(path, isOffBox, size);
    }

    /// <summary>How many entries a note covers that is a checkpoint of this record; null where it is none.</summary>
    public long? Take(string path, SignedNote note)
    {
        if (!Checkpoint.TryRead(note.Text, out var anchored, out var reason))
        {
            faults.Add(FaultCode.AnchorUnreadable, $"{path} holds a note that is no checkpoint: {reason}");
            return null;
        }
        if (anchored.Origin != origin)
            faults.Add(FaultCode.AnchorDiffers,
                $"{path} holds checkpoints of another record, {anchored.Origin}: this database is not the one that "
                + $"was anchored");
        else if (anchored.Size > entries)
            faults.Add(FaultCode.AnchorAhead, entries,
                $"{path} holds a checkpoint over {anchored.Size} entries, and the record has only {entries}: it was "
                + $"cut short, or an older copy was put back");
        else if (Stored(anchored.Size) is not { } own)
            faults.Add(FaultCode.AnchorDiffers, anchored.Size - 1,
                $"{path} holds a checkpoint over {anchored.Size} entries that the record does not have: the record "
                + $"was written again");
        else if (!TreeHash.TryRead(own.Root, out var root) || root != anchored.Root)
            faults.Add(FaultCode.AnchorDiffers, anchored.Size - 1,
                $"{path} holds another root over {anchored.Size} entries than the record: one of the entries 0 to "
                + $"{anchored.Size - 1} was written again");
        // The same note as in the database, whose signature was checked there.
        else if (own.ToNote(origin)?.ToString() == note.ToString()
            || NoteSigning.Holds(note, keys.At(anchored.Size), out _, out reason))
            return anchored.Size;
        else
            faults.Add(FaultCode.AnchorDiffers, anchored.Size - 1,
                $"the checkpoint over {anchored.Size} entries in {path} does not hold: {reason}");
        return null;
    }

    private const string OfSizeSql = "SELECT size, root, signed FROM checkpoint WHERE size = @Size";

    private StoredCheckpoint? Stored(long size)
    {
        using var command = connection.CreateCommand();
        command.CommandText = OfSizeSql;
        command.With("@Size", size);
        using var rows = command.ExecuteReader();
        return rows.Read()
            ? new StoredCheckpoint
            {
                Size = rows.GetInt64(0),
                Root = rows.GetFieldValue<byte[]>(1),
                Signed = rows.GetString(2),
            }
            : null;
    }
}
