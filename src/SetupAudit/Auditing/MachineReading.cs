using SetupAudit.Evidence;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Reads what was taken in from a machine (or the sheets) and not read yet: some at a time, each lot kept with the mark
/// of what must be folded again, so that a stop at any place loses and repeats nothing.
/// </summary>
internal sealed class MachineReading(
    string machine, ArrivalReader reader, AuditStore store, StoreReader evidence, Shelves shelves,
    IReadOnlyList<MachineAudit> audits, IProgress<AuditProgress>? progress)
{
    private const int AtOnce = 256;
    private const int SmallBytes = 256 * 1024;

    private readonly StreamRepeats _repeats = new(machine, store.Reader);
    private int _read;
    private int _notWhole;

    public Shelves Shelves => shelves;

    /// <summary>Reads all there is; how many, and how many of them not whole.</summary>
    public async Task<(int Read, int NotWhole)> ReadAllAsync(CancellationToken token)
    {
        (_read, _notWhole) = (0, 0);
        while (await store.Reader.UnreadAsync(machine, AtOnce, token) is { Count: > 0 } unread)
            await ReadAsync(unread, token);
        return (_read, _notWhole);
    }

    /// <summary>Reads some arrivals and keeps what they say.</summary>
    public async Task ReadAsync(IReadOnlyList<StoredArrival> arrivals, CancellationToken token)
    {
        var bytes = await SmallAsync(arrivals, token);
        var reads = new List<ReadArrival>(arrivals.Count);
        var dirty = new Dictionary<string, DirtyMark>(StringComparer.Ordinal);
        var late = await LateEvidence.OfAsync(evidence, machine, token);
        _repeats.Begin();
        foreach (var stored in arrivals)
        {
            var told = await reader.ReadAsync(stored, bytes.GetValueOrDefault(stored.Arrival.Sha256), token);
            var read = await _repeats.WithoutAsync(late.Without(told), token);
            Mark(read, dirty);
            shelves.Take(read);
            reads.Add(read);
        }
        await store.PutReadAsync(new ReadBatch
        {
            Machine = machine,
            Arrivals = arrivals,
            Sightings = [.. reads.SelectMany(read => read.Sightings)],
            Shelf = [.. reads.Where(read => read.IsLookedUp).Select(Shelved)],
            Rows = [.. reads.Where(read => read.IsWatched).Select(DerivedRows.Of)],
            Dirty = dirty,
        }, token);
        _read += reads.Count;
        _notWhole += reads.Count(read => read.Status != ArrivalStatus.Read);
        progress?.Report(new AuditProgress(machine, "reading", _read));
    }

    private async Task<IReadOnlyDictionary<string, byte[]>> SmallAsync(
        IReadOnlyList<StoredArrival> arrivals, CancellationToken token)
    {
        var small = arrivals
            .Where(stored => stored.Arrival.Refused is null && stored.Arrival.SizeBytes <= SmallBytes)
            .Select(stored => stored.Arrival.Sha256).ToHashSet(StringComparer.Ordinal);
        try
        {
            return await evidence.ReadEvidenceAsync(small, token);
        }
        catch (StoreException fault) when (fault.Kind == StoreFaultKind.Permanent)
        {
            // One of them is damaged: each is read by itself, and that one says so.
            return new Dictionary<string, byte[]>();
        }
    }

    private void Mark(ReadArrival read, Dictionary<string, DirtyMark> dirty)
    {
        foreach (var sighting in read.Sightings)
            Add(dirty, machine, new DirtyMark(sighting.Position, ByLookUp: false));
        if (read.Sheet is { } sheet)
            foreach (var audit in audits)
                AddLookUp(dirty, audit.Machine.Name, LookUps.ChangedBy(sheet, shelves.Sheets, audit.FirstAsked));
        var asked = audits.FirstOrDefault(audit => audit.Machine.Name == machine)?.FirstAsked;
        if (read.Program is { } program && asked is not null)
            AddLookUp(dirty, machine, LookUps.ChangedBy(program, shelves.Programs, asked));
        if (read.Waiting is { } waiting) AddLookUp(dirty, machine, waiting.AtUtc);
    }

    private static void AddLookUp(Dictionary<string, DirtyMark> dirty, string machine, DateTimeOffset? fromUtc) =>
        Add(dirty, machine, new DirtyMark(
            fromUtc is { } moment ? SightingPosition.Before(moment) : SightingPosition.End, ByLookUp: true));

    private static void Add(Dictionary<string, DirtyMark> dirty, string machine, DirtyMark mark) =>
        dirty[machine] = DirtyMark.Earlier(dirty.GetValueOrDefault(machine), mark) ?? mark;

    // A program may have gigabytes: what was read of it is kept. The others are read again in no time.
    private static ShelfItem Shelved(ReadArrival read) => new(
        read.Stored, read.Program is { } program ? new ReadOnlyMemory<byte>?(ReadingText.Bytes(program)) : null);
}
