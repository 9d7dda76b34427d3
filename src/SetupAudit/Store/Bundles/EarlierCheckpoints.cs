using System.Globalization;
using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Checks the checkpoints in a bundle that are older than its own: each signed by the key in force then, each the
/// beginning of the record that the bundle's checkpoint is over, and every change of keys vouched for by the key
/// before.
/// </summary>
internal sealed class EarlierCheckpoints(BundleReader files, FaultList faults, KeyHistory keys)
{
    /// <summary>The sizes of those that hold.</summary>
    public IReadOnlyList<long> Check(Checkpoint newest)
    {
        var notes = new SortedDictionary<long, SignedNote>();
        foreach (var (name, bytes) in files.Held)
            if (BundleNames.EarlierOf(name) is { } size && Take(name, bytes, size, newest) is { } note)
                notes[size] = note;
        foreach (var name in files.Held.Keys.Where(name => BundleNames.ConsistencyOf(name) is { } size
            && !files.Held.ContainsKey(BundleNames.Earlier(size))))
            faults.Add(FaultCode.BundleDiffers, $"it holds {name} and no such checkpoint");
        foreach (var (entry, before, after) in keys.Changes)
            if (!notes.Any(note => note.Key > entry && NoteSigning.Holds(note.Value, [before], out _, out _)
                && NoteSigning.Holds(note.Value, [after], out _, out _)))
                faults.Add(FaultCode.KeyChange, entry,
                    string.Create(CultureInfo.InvariantCulture, $"entry {entry} names another key, and no checkpoint ")
                    + "in it that the key before signed as well vouches for that");
        return [.. notes.Keys];
    }

    private SignedNote? Take(string name, byte[] bytes, long size, Checkpoint newest)
    {
        if (!SignedNote.TryRead(bytes, out var note, out var reason)
            || !Checkpoint.TryRead(note.Text, out var checkpoint, out reason))
            faults.Add(FaultCode.BadSignature, $"{name} is no signed checkpoint: {reason}");
        else if (checkpoint.Origin != newest.Origin || checkpoint.Size != size)
            faults.Add(FaultCode.BundleDiffers,
                $"{name} is the checkpoint over {checkpoint.Size} entries of the record {checkpoint.Origin}");
        else if (!NoteSigning.Holds(note, [.. keys.At(size).TakeLast(1)], out _, out reason))
            faults.Add(FaultCode.BadSignature, $"the checkpoint in {name} does not hold: {reason}");
        else if (!files.Held.TryGetValue(BundleNames.Consistency(size), out var proof))
            faults.Add(FaultCode.BundleIncomplete, $"it is incomplete: {BundleNames.Consistency(size)} is not in it");
        else if (!ConsistencyText.TryRead(Encoding.UTF8.GetString(proof), checkpoint.Root, out var read)
            || read.Older != size || read.Newer != newest.Size
            || !ConsistencyProof.Holds(size, checkpoint.Root, newest.Size, newest.Root, read.Hashes))
            faults.Add(FaultCode.ProofFails, $"{BundleNames.Consistency(size)} does not lead from the checkpoint over "
                + $"{size} entries to the one over {newest.Size}: the record was written again, or the proof altered");
        else return note;
        return null;
    }
}
