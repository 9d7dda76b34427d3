using System.Text;
using System.Text.Json;
using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
using SetupAudit.Store.Stamps;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// Checks a bundle with nothing but itself and, if it is given, a key that was written down elsewhere. What cannot be
/// checked is a fault.
/// </summary>
public sealed class BundleVerifier
{
    private readonly FaultList _faults = new();
    private readonly KeyHistory _keys = new();
    private readonly SortedDictionary<long, (RecordBody Body, TreeHash Leaf)> _entries = [];
    private readonly HashSet<string> _named = new(StringComparer.Ordinal);
    private readonly HashSet<string> _dropped = new(StringComparer.Ordinal);
    private long _sealedRows;
    private bool _isRecorded;

    private readonly StampTrust? _trust;

    private BundleVerifier(StampTrust? trust) => _trust = trust;

    /// <param name="pinned">The key it must be signed with; null takes the one it names itself.</param>
    /// <param name="trust">What a time-stamp authority's certificate must lead to; null where nobody says.</param>
    public static BundleCheck Run(
        Stream archive, VerifierKey? pinned, StampTrust? trust, CancellationToken token) =>
        new BundleVerifier(trust).Check(archive, pinned, token);

    private BundleCheck Check(Stream archive, VerifierKey? pinned, CancellationToken token)
    {
        var reader = new BundleReader(_faults);
        var check = new BundleCheck { KeyWasGiven = pinned is not null };
        if (reader.Read(archive, token)) check = Look(reader, pinned, check);
        return check with { Faults = _faults.Ordered, FaultCount = _faults.Count };
    }

    private BundleCheck Look(BundleReader files, VerifierKey? pinned, BundleCheck check)
    {
        if (!files.Held.TryGetValue(BundleNames.Manifest, out var list)
            || BundleManifest.Read(list) is not { } manifest)
        {
            _faults.Add(FaultCode.BundleIncomplete,
                $"it has no list of its files ({BundleNames.Manifest}) as a bundle has");
            return check;
        }
        check = check with { Setup = manifest.Setup, Origin = manifest.Origin, MadeUtc = manifest.MadeUtc };
        Entries(files, manifest);
        Listed(files, manifest, list);
        if (Signed(files, manifest, pinned) is { } checkpoint)
        {
            check = check with { Size = checkpoint.Size, Key = _keys.Last?.ToString() };
            Proved(files, checkpoint);
            check = check with { Earlier = new EarlierCheckpoints(files, _faults, _keys).Check(checkpoint) };
            check = check with { Stamps = Stamps(files, check.Earlier) };
        }
        Rows(files, manifest);
        Evidence(files);
        return check with
        {
            NotShown = Readable(files),
            Entries = _entries.Count,
            SealedRows = _sealedRows,
            Evidence = files.All.Keys.Count(
                name => name.StartsWith(BundleNames.EvidenceFolder, StringComparison.Ordinal)),
            IsRecorded = _isRecorded,
            Remarks = [.. Remarks(manifest)],
        };
    }

    private IEnumerable<string> Remarks(BundleManifest manifest)
    {
        if (!_isRecorded)
            yield return "The record does not say that this bundle was made: it proves what is in it, and not that "
                + "nothing was left out.";
        if (manifest.EvidenceDropped.Count > 0)
            yield return $"{PruneWords.Were(manifest.EvidenceDropped.Count)} dropped before it was made"
                + string.Concat(_entries.Values.Select(entry => entry.Body).Where(PruneWords.Says)
                    .Select(body => $", {PruneWords.Sentence(body)}"))
                + "; that they were taken in is proved as ever.";
        if (manifest.EvidenceMissing.Count > 0)
            yield return $"{manifest.EvidenceMissing.Count} files of evidence could not be read when it was made, and "
                + "are not in it.";
    }

    private void Entries(BundleReader files, BundleManifest manifest)
    {
        foreach (var (name, bytes) in files.Held)
        {
            if (BundleNames.EntryOf(name) is not { } number) continue;
            if (RecordBody.Read(bytes) is not { } body)
                _faults.Add(FaultCode.EntryUnreadable, number, $"entry {number} is not written as an entry is");
            else if (body.Number != number)
                _faults.Add(FaultCode.EntryMisplaced, number,
                    $"entry {number} says of itself that it is entry {body.Number}");
            else if (body.Origin != manifest.Origin)
                _faults.Add(FaultCode.EntryMisplaced, number,
                    $"entry {number} says of itself that it belongs to the record {body.Origin}");
            else _entries[number] = (body, MerkleTree.Leaf(bytes));
        }
        foreach (var (number, (body, _)) in _entries)
            if (body.Kind is RecordKind.Begin or RecordKind.Key && !_keys.TryAdd(body))
                _faults.Add(FaultCode.KeyChange, number, $"entry {number} names no key that can be read");
    }

    // The list names every file, and every file but the proofs is named by the list.
    private void Listed(BundleReader files, BundleManifest manifest, byte[] list)
    {
        var sha256 = TreeHash.Of(list).ToString();
        var named = new HashSet<string>(StringComparer.Ordinal);
        foreach (var file in manifest.Files)
            if (!named.Add(file.Name) || !BundleNames.IsAllowed(file.Name) || !BundleNames.IsListed(file.Name))
                _faults.Add(FaultCode.BundleUnreadable, $"its list names {file.Name}, which it should not");
            else if (!files.All.TryGetValue(file.Name, out var there))
                _faults.Add(FaultCode.BundleIncomplete, BundleNames.EntryOf(file.Name),
                    $"it is incomplete: {file.Name} is not in it");
            else if (there != (file.Bytes, file.Sha256))
                _faults.Add(FaultCode.BundleDiffers, BundleNames.EntryOf(file.Name),
                    $"{file.Name} is not the file that its list names: another SHA-256 or length");
        foreach (var name in files.All.Keys.Where(name => BundleNames.IsListed(name) && !named.Contains(name)))
            if (BundleNames.EntryOf(name) is { } number && _entries.TryGetValue(number, out var entry)
                && entry.Body.Kind == RecordKind.Export && Text(entry.Body, "bundle") == sha256 && !_isRecorded
                && Text(entry.Body, "setup") == manifest.Setup)
                _isRecorded = true;
            else
                _faults.Add(FaultCode.BundleDiffers, BundleNames.EntryOf(name),
                    $"it holds {name}, which its list does not name");
        foreach (var name in Required.Where(name => !files.All.ContainsKey(name)))
            _faults.Add(FaultCode.BundleIncomplete, $"it is incomplete: {name} is not in it");
    }

    private static readonly string[] Required =
    [
        BundleNames.Checkpoint, BundleNames.Key, BundleNames.PublicKey, BundleNames.Report, BundleNames.Setup,
        BundleNames.Check,
    ];

    private Checkpoint? Signed(BundleReader files, BundleManifest manifest, VerifierKey? pinned)
    {
        if (!files.Held.TryGetValue(BundleNames.Checkpoint, out var bytes)) return null;
        if (!SignedNote.TryRead(bytes, out var note, out var reason)
            || !Checkpoint.TryRead(note.Text, out var checkpoint, out reason))
        {
            _faults.Add(FaultCode.BadSignature, $"{BundleNames.Checkpoint} is no signed checkpoint: {reason}");
            return null;
        }
        if (checkpoint.Origin != manifest.Origin)
            _faults.Add(FaultCode.BundleDiffers, $"its checkpoint is of the record {checkpoint.Origin}");
        if (!_entries.ContainsKey(0) || _keys.Last is not { } key)
        {
            _faults.Add(FaultCode.UnknownKey, 0,
                "it is incomplete: the first entry, which names the key, is not in it");
            return null;
        }
        if (!NoteSigning.Holds(note, [key], out _, out reason))
            _faults.Add(
                reason.StartsWith("no key", StringComparison.Ordinal) ? FaultCode.UnknownKey : FaultCode.BadSignature,
                $"its checkpoint does not hold: {reason}");
        if (pinned is not null && !_keys.Knows(pinned))
            _faults.Add(FaultCode.OtherKey, 0, $"it {_keys.Mismatch(pinned)}");
        KeyFiles(files, key);
        return checkpoint;
    }

    // What a person checks by hand with must be what the record says.
    private void KeyFiles(BundleReader files, VerifierKey key)
    {
        if (files.Held.TryGetValue(BundleNames.Key, out var text) && Encoding.UTF8.GetString(text) != $"{key}\n")
            _faults.Add(FaultCode.BundleDiffers, $"{BundleNames.Key} is not the key that the record names");
        if (files.Held.TryGetValue(BundleNames.PublicKey, out var pem)
            && !pem.AsSpan().SequenceEqual(NoteSigning.PublicPem(key)))
            _faults.Add(FaultCode.BundleDiffers, $"{BundleNames.PublicKey} is not the key that the record names");
    }

    private void Proved(BundleReader files, Checkpoint checkpoint)
    {
        foreach (var (number, (_, leaf)) in _entries)
            if (!files.Held.TryGetValue(BundleNames.Proof(number), out var bytes))
                _faults.Add(FaultCode.BundleIncomplete, number,
                    $"it is incomplete: {BundleNames.Proof(number)} is not in it");
            else if (!ProofText.TryRead(Encoding.UTF8.GetString(bytes), out var proof) || proof.Index != number
                || proof.Size != checkpoint.Size)
                _faults.Add(FaultCode.ProofFails, number, $"{BundleNames.Proof(number)} is no proof of entry {number} "
                    + $"under a checkpoint over {checkpoint.Size} entries");
            else if (!InclusionProof.Holds(leaf, number, checkpoint.Size, proof.Hashes, checkpoint.Root))
                _faults.Add(FaultCode.ProofFails, number, $"entry {number} is not in the record that the checkpoint "
                    + "was signed over: it was altered, or its proof was");
        foreach (var name in files.Held.Keys.Where(name => name.StartsWith("proofs/", StringComparison.Ordinal)))
            if (!_entries.Keys.Any(number => BundleNames.Proof(number) == name))
                _faults.Add(FaultCode.BundleDiffers, $"it holds {name} and no such entry");
    }

    private List<StampState> Stamps(BundleReader files, IReadOnlyList<long> earlier)
    {
        var found = new List<StampState>();
        foreach (var (name, answer) in files.Held)
        {
            if (BundleNames.StampOf(name) is not { } size) continue;
            try
            {
                if (!earlier.Contains(size))
                    throw new StampFaultException(
                        $"{BundleNames.Earlier(size)}, which it is over, is not in the bundle or does not hold");
                var stamp = StampReading.Check(answer, files.Held[BundleNames.Earlier(size)], _trust);
                found.Add(new StampState(name, IsOffBox: false)
                {
                    Count = 1,
                    Size = size,
                    AtUtc = stamp.AtUtc.UtcDateTime,
                    By = stamp.By,
                    IsTrusted = stamp.IsTrusted,
                });
            }
            catch (StampFaultException fault)
            {
                _faults.Add(FaultCode.StampFails, $"the time stamp {name} does not hold: {fault.Message}");
            }
        }
        return found;
    }

    private void Rows(BundleReader files, BundleManifest manifest)
    {
        foreach (var (number, (body, _)) in _entries)
        {
            if (body.Kind is RecordKind.Arrival && Text(body, "sha256") is { } sha256) _named.Add(sha256);
            if (body.Kind != RecordKind.Rows) continue;
            if (SealedRows.Read(body.Said) is not { } seal
                || (seal.Setup != manifest.Setup && seal.Table != SealedTables.Dropped))
                _faults.Add(FaultCode.BundleDiffers, number,
                    $"entry {number} seals rows that are not of {manifest.Setup}");
            else if (!files.All.TryGetValue(BundleNames.Rows(number), out var rows))
                _faults.Add(FaultCode.BundleIncomplete, number,
                    $"it is incomplete: {BundleNames.Rows(number)} is not in it");
            else if (rows.Sha256 != seal.Sha256)
                _faults.Add(FaultCode.RowsAltered, number,
                    $"{BundleNames.Rows(number)} is not what entry {number} sealed");
            else
            {
                _sealedRows += seal.Rows;
                if (seal.Table == SealedTables.Dropped) _dropped.UnionWith(seal.Keys ?? []);
            }
        }
        foreach (var sha256 in manifest.EvidenceDropped.Where(sha256 => !_dropped.Contains(sha256)))
            _faults.Add(FaultCode.BundleIncomplete,
                $"its list says that the bytes {sha256} were dropped, and no entry in it does");
        foreach (var name in files.Held.Keys.Where(name => name.StartsWith("rows/", StringComparison.Ordinal)))
            if (!_entries.Any(entry => entry.Value.Body.Kind == RecordKind.Rows && BundleNames.Rows(entry.Key) == name))
                _faults.Add(FaultCode.RowsUnsealed, $"it holds {name}, which no entry in it seals");
    }

    // Only rows whose seals hold are worth comparing with.
    private long? Readable(BundleReader files) =>
        _faults.Count == 0 && files.Held.TryGetValue(BundleNames.Setup, out var setup)
            ? new ReadableCheck(_faults).Run(
                _entries.Where(entry => entry.Value.Body.Kind == RecordKind.Rows
                        && SealedRows.Read(entry.Value.Body.Said)?.Setup is not null)
                    .Select(entry => files.Held[BundleNames.Rows(entry.Key)]), setup)
            : null;

    private void Evidence(BundleReader files)
    {
        foreach (var (name, there) in files.All)
        {
            if (!name.StartsWith(BundleNames.EvidenceFolder, StringComparison.Ordinal)) continue;
            if (name != BundleNames.Evidence(there.Sha256))
                _faults.Add(FaultCode.EvidenceAltered, $"{name} is altered: its SHA-256 is {there.Sha256}");
            else if (!_named.Contains(there.Sha256))
                _faults.Add(FaultCode.EvidenceAltered, $"{name} is named by no arrival in it");
        }
    }

    private static string? Text(RecordBody body, string name)
    {
        using var said = JsonDocument.Parse(body.Said);
        return said.RootElement.ValueKind == JsonValueKind.Object && said.RootElement.TryGetProperty(name, out var text)
            && text.ValueKind == JsonValueKind.String ? text.GetString() : null;
    }
}
