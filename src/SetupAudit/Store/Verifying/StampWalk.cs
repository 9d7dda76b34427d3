using System.Globalization;
using SetupAudit.Records;
using SetupAudit.Store.Stamps;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// Checks the time stamps that lie beside a record: each must be over a checkpoint that the record holds. That there
/// are none is no fault.
/// </summary>
internal sealed class StampWalk(VerifyOptions options, FaultList faults)
{
    // RFC 3161, 2.4.2: moments nearer to each other than an authority's accuracy do not say which of two was first.
    private static readonly TimeSpan Accuracy = TimeSpan.FromMinutes(1);

    private readonly SortedDictionary<long, DateTimeOffset> _moments = [];
    private readonly Dictionary<(TreeHash, TreeHash), Stamp> _read = [];

    // Before the record is opened: one that comes later may be over entries that are not read.
    private readonly Dictionary<string, IReadOnlyList<string>> _files = Folders(options).ToDictionary(
        folder => folder.Path, folder => Listed(folder, faults), StringComparer.Ordinal);

    /// <summary>What is worth knowing of the moments of all that were compared, and no fault.</summary>
    public IEnumerable<string> Remarks
    {
        get
        {
            var last = DateTimeOffset.MinValue;
            foreach (var (size, atUtc) in _moments)
            {
                if (last - atUtc > Accuracy)
                    yield return string.Create(CultureInfo.InvariantCulture,
                        $"The time stamp over {size} entries says {atUtc:yyyy-MM-ddTHH:mm:ssZ}, earlier than one over "
                        + $"fewer: the authority's clock was wrong.");
                last = atUtc;
            }
        }
    }

    /// <summary>How each folder stands that holds stamps of this record, where any of them holds.</summary>
    public IReadOnlyList<StampState> Compare(AnchorWalk anchors, string origin)
    {
        using var trust = Trust();
        StampState?[] states =
        [
            Compare(StampFolder.OfStore(options.Folder), false, anchors, trust),
            options.OffBoxFolder is { } offBox
                ? Compare(StampFolder.OffBox(offBox, origin), true, anchors, trust)
                : null,
        ];
        return [.. states.OfType<StampState>()];
    }

    private static IEnumerable<StampFolder> Folders(VerifyOptions options)
    {
        yield return StampFolder.OfStore(options.Folder);
        if (options.OffBoxFolder is not { } offBox || !Directory.Exists(offBox)) yield break;
        foreach (var path in Directory.EnumerateDirectories(offBox, "*." + StampFolder.Name))
            yield return new StampFolder(path);
    }

    private static IReadOnlyList<string> Listed(StampFolder folder, FaultList faults)
    {
        try
        {
            return folder.Files();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            faults.Add(FaultCode.NotReadable, $"{folder.Path} cannot be read: {fault.Message.TrimEnd('.')}");
            return [];
        }
    }

    private StampTrust? Trust()
    {
        if (options.AuthorityFile is not { } file || !_files.Values.Any(files => files.Count > 0)) return null;
        var trust = StampTrust.Read(file, out var reason);
        if (trust is null)
            faults.Add(FaultCode.StampFails, $"nothing vouches for whoever made the time stamps: {reason}");
        return trust;
    }

    private StampState? Compare(StampFolder folder, bool isOffBox, AnchorWalk anchors, StampTrust? trust)
    {
        var (count, newest, size) = (0, default(Stamp), 0L);
        foreach (var file in _files.GetValueOrDefault(folder.Path, []))
            if (Take(folder, file, anchors, trust) is var (entries, stamp))
            {
                count++;
                _moments[entries] = stamp.AtUtc;
                if (entries > size) (newest, size) = (stamp, entries);
            }
        return newest is null ? null : new StampState(folder.Path, isOffBox)
        {
            Count = count,
            Size = size,
            AtUtc = newest.AtUtc.UtcDateTime,
            By = newest.By,
            IsTrusted = newest.IsTrusted,
        };
    }

    private (long Size, Stamp Stamp)? Take(StampFolder folder, string file, AnchorWalk anchors, StampTrust? trust)
    {
        try
        {
            if (StampFolder.SizeOf(file) is not { } size)
                faults.Add(FaultCode.StampUnreadable, $"{file} is not named as a time stamp is");
            else if (folder.Note(size) is not { } bytes)
                faults.Add(FaultCode.StampUnreadable,
                    $"{folder.NoteOf(size)}, the checkpoint that the time stamp {file} is over, is not there");
            else if (!SignedNote.TryRead(bytes, out var note, out var reason))
                faults.Add(FaultCode.StampUnreadable, $"{folder.NoteOf(size)} is no signed checkpoint: {reason}");
            else if (anchors.Take(folder.NoteOf(size), note) is not { } entries) return null;
            else if (entries != size)
                faults.Add(FaultCode.StampUnreadable,
                    $"{folder.NoteOf(size)} is the checkpoint over {entries} entries");
            else return (size, Read(folder.Answer(size), bytes, trust));
        }
        catch (StampFaultException fault)
        {
            faults.Add(FaultCode.StampFails, $"the time stamp {file} does not hold: {fault.Message}");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            faults.Add(FaultCode.NotReadable, $"{file} cannot be read: {fault.Message.TrimEnd('.')}");
        }
        return null;
    }

    // The copy off the computer is mostly the same bytes: a signature is not checked twice.
    private Stamp Read(byte[] answer, byte[] note, StampTrust? trust)
    {
        var both = (TreeHash.Of(answer), TreeHash.Of(note));
        return _read.TryGetValue(both, out var known) ? known
            : _read[both] = StampReading.Check(answer, note, trust);
    }
}
