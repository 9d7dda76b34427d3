using System.Runtime.CompilerServices;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// A machine's sightings in the order in which they are folded, brought back from the store: print-out lines as they
/// were kept, dumps read again from their bytes, some at a time.
/// </summary>
internal sealed class TimeLine(MachineConfig machine, StoreReader places, StoreReader evidence, ArrivalReader reader)
{
    private const int AtOnce = 64;

    private readonly Dictionary<int, WatchConfig> _watch = machine.Watch.ToDictionary(watch => watch.Index);

    /// <summary>Where the bytes are that are read again.</summary>
    public StoreReader Evidence => evidence;

    /// <summary>Everything behind a position.</summary>
    public async IAsyncEnumerable<Sighting> AfterAsync(
        FoldPosition position, [EnumeratorCancellation] CancellationToken token)
    {
        var some = new List<StoredSighting>(AtOnce);
        await foreach (var stored in places.SightingsAsync(machine.Name, Stored(position), token))
        {
            some.Add(stored);
            if (some.Count < AtOnce) continue;
            foreach (var sighting in await BringAsync(some, token)) yield return sighting;
            some.Clear();
        }
        foreach (var sighting in await BringAsync(some, token)) yield return sighting;
    }

    public static SightingPosition? Stored(FoldPosition position) => position == FoldPosition.Start
        ? null
        : new SightingPosition(position.AtUtc, position.Source, position.File, position.Sha256, position.Line);

    private async Task<IReadOnlyList<Sighting>> BringAsync(List<StoredSighting> some, CancellationToken token)
    {
        var wanted = some.Where(stored => stored.Body is null && reader.Dumps.Find(
                machine.Name, stored.Position.Source, stored.Position.Sha256) is null)
            .Select(stored => stored.Position.Sha256).ToHashSet(StringComparer.Ordinal);
        var bytes = wanted.Count == 0 ? null : await evidence.ReadEvidenceAsync(wanted, token);
        return [.. some.Select(stored => Bring(stored, bytes))];
    }

    private Sighting Bring(StoredSighting stored, IReadOnlyDictionary<string, byte[]>? bytes)
    {
        var sighting = new Sighting
        {
            AtUtc = stored.Position.AtUtc,
            EarliestUtc = stored.EarliestUtc,
            Source = stored.Position.Source,
            File = stored.Position.File,
            Sha256 = stored.Position.Sha256,
            Line = stored.Position.Line,
            Arrival = stored.Arrival,
            ShareUtc = stored.ShareUtc,
        };
        if (stored.Body is { } text)
        {
            var body = ReadingText.Read<SightingBody>(text);
            return sighting with
            {
                Print = body.Print,
                Stream = body.Stream,
                Faults = body.Faults ?? [],
                Status = body.Status,
                Clock = body.Clock,
                TooLate = body.TooLate,
            };
        }
        var dump = reader.ReadDump(machine, _watch[sighting.Source], sighting.Sha256,
            bytes is not null && bytes.TryGetValue(sighting.Sha256, out var kept) ? kept : default);
        return sighting with { Offsets = dump.Offsets, Measured = dump.Measured, Faults = dump.Faults };
    }
}
