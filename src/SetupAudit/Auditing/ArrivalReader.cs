using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// Reads arrivals by the present configuration: from the bytes that are kept, never from the share, so that what is
/// derived rests on evidence alone.
/// </summary>
internal sealed class ArrivalReader(ShopConfig shop, StoreReader evidence)
{
    /// <summary>No control writes a dump of this size, and no print-out grows by it at once.</summary>
    public const long WholeMostBytes = 64 * 1024 * 1024;

    private const int ChunkBytes = 256 * 1024;

    private readonly WatchIndex _watched = new(shop);
    private readonly ShopClock _clock = new(shop);
    private readonly Dictionary<(string Machine, int Source), PrintOutReader> _printOuts = [];
    private readonly Dictionary<(string Machine, int Source), MomentFinder> _moments = [];

    /// <summary>The dumps read last.</summary>
    public DumpCache Dumps { get; } = new();

    /// <summary>What the arrival says by each entry that watches it.</summary>
    /// <param name="bytes">Its bytes, where they are at hand.</param>
    public async Task<ReadArrival> ReadAsync(StoredArrival stored, byte[]? bytes, CancellationToken token)
    {
        var read = new ReadArrival { Stored = stored, Status = ArrivalStatus.Read, IsWatched = false };
        foreach (var (watch, name) in _watched.Of(stored.Arrival))
            read = Both(read, await ReadAsync(stored, watch, name, bytes, token));
        return read;
    }

    /// <summary>The dump of a source, read again from its bytes.</summary>
    public DumpResult ReadDump(MachineConfig machine, WatchConfig watch, string sha256, ReadOnlySpan<byte> bytes)
    {
        if (Dumps.Find(machine.Name, watch.Index, sha256) is { } known) return known;
        var result = DumpReader.Read(bytes, machine, watch);
        Dumps.Put(machine.Name, watch.Index, sha256, result);
        return result;
    }

    private async Task<ReadArrival> ReadAsync(
        StoredArrival stored, WatchConfig watch, string name, byte[]? bytes, CancellationToken token)
    {
        var arrival = stored.Arrival;
        var machine = shop.Machine(arrival.Machine);
        if (arrival.Refused is { } refused) return Unreadable(stored, watch, arrival.MomentUtc, refused);
        try
        {
            if (watch.Read == SourceKind.Program && machine is not null)
                return await ReadProgramAsync(stored, machine, watch, name, bytes, token);
            if (arrival.SizeBytes > WholeMostBytes)
                return Unreadable(stored, watch, arrival.MomentUtc, string.Create(CultureInfo.InvariantCulture,
                    $"the file has {arrival.SizeBytes} bytes; a file of this kind has at most {WholeMostBytes}"));
            var whole = bytes ?? await evidence.ReadEvidenceAsync(arrival.Sha256, token);
            return whole is not null
                ? ReadWhole(stored, machine, watch, name, whole)
                : Unreadable(stored, watch, arrival.MomentUtc, "its bytes are not in the store");
        }
        catch (StoreException fault) when (fault.Kind == StoreFaultKind.Permanent)
        {
            return Unreadable(stored, watch, arrival.MomentUtc, fault.Message);
        }
    }

    private ReadArrival ReadWhole(
        StoredArrival stored, MachineConfig? machine, WatchConfig watch, string name, ReadOnlySpan<byte> bytes)
    {
        if (watch.Read == SourceKind.Sheet) return ReadSheet(stored, watch, bytes);
        if (machine is null) return Unreadable(stored, watch, stored.Arrival.MomentUtc, "no machine has this file");
        var momentUtc = Moments(machine, watch).Find(name, bytes, stored.Arrival.ModifiedUtc).AtUtc;
        return watch.Read switch
        {
            SourceKind.PrintOut => ReadPrintOut(stored, machine, watch, momentUtc, bytes),
            SourceKind.Mtconnect => ReadStreams(stored, machine, watch, momentUtc, bytes),
            _ => ReadDump(stored, machine, watch, momentUtc, bytes),
        };
    }

    private ReadArrival ReadDump(StoredArrival stored, MachineConfig machine, WatchConfig watch,
        DateTimeOffset momentUtc, ReadOnlySpan<byte> bytes)
    {
        var arrival = stored.Arrival;
        var result = ReadDump(machine, watch, arrival.Sha256, bytes);
        var read = new ReadArrival { Stored = stored, Status = result.Status, Faults = result.Faults };
        if (watch.IsToLoad)
            return read with
            {
                Waiting = new WaitingDump(momentUtc, arrival.File, arrival.Sha256, result.Offsets),
                Sightings = OfFaults(stored, watch, momentUtc, result.Faults),
            };
        var earliestUtc = momentUtc - DateTimeOffset.MinValue > watch.Lag ? momentUtc - watch.Lag : momentUtc;
        return read with
        {
            Sightings =
            [
                .. ClockNote.Of(stored, watch, momentUtc),
                Sighting(stored, watch, momentUtc, 0) with { EarliestUtc = earliestUtc },
            ],
        };
    }

    private ReadArrival ReadPrintOut(StoredArrival stored, MachineConfig machine, WatchConfig watch,
        DateTimeOffset momentUtc, ReadOnlySpan<byte> bytes)
    {
        if (PrintOuts(machine, watch) is not { } reader)
            return Unreadable(stored, watch, momentUtc, $"no print-out is configured as {watch.Lines}");
        var result = reader.Read(bytes, stored.Arrival.FirstLine);
        var places = LineMoments.Of(result.Readings, stored.Arrival.PreviousUtc, momentUtc);
        // Only the last line was written when the file was; a copy made with a lag compares with nothing.
        var written = watch.Lag > TimeSpan.Zero ? null : result.Readings.LastOrDefault(line => line.AtUtc is not null);
        return new ReadArrival
        {
            Stored = stored,
            Status = result.Status,
            Faults = result.Faults,
            Sightings =
            [
                .. ClockNote.Of(stored, watch, places.Count > 0 ? places[0].AtUtc : momentUtc),
                .. OfFaults(stored, watch, momentUtc, result.Faults),
                .. result.Readings.Zip(places, (line, place) =>
                    Sighting(stored, watch, place.AtUtc, line.Line) with
                    {
                        EarliestUtc = place.EarliestUtc,
                        ShareUtc = ReferenceEquals(line, written) ? stored.Arrival.ModifiedUtc : null,
                        Body = ReadingText.Text(new SightingBody { Print = line }),
                    }),
            ],
        };
    }

    private static ReadArrival ReadStreams(StoredArrival stored, MachineConfig machine, WatchConfig watch,
        DateTimeOffset momentUtc, ReadOnlySpan<byte> bytes)
    {
        var document = StreamsReader.Read(bytes, machine, watch);
        var end = document.Moments.Count > 0 ? document.Moments[^1].AtUtc : momentUtc;
        var places = document.Moments.Select(moment => Sighting(stored, watch, moment.AtUtc, moment.Line) with
        {
            // A copy made with a lag compares with nothing.
            ShareUtc = moment.WrittenHere && watch.Lag == TimeSpan.Zero ? stored.Arrival.ModifiedUtc : null,
            Body = ReadingText.Text(new SightingBody { Stream = moment }),
        }).ToList();
        return new ReadArrival
        {
            Stored = stored,
            Status = document.Status,
            Faults = document.Faults,
            Moments = document.Moments.Zip(places)
                .ToDictionary(pair => pair.Second.Position, pair => pair.First),
            Sightings =
            [
                .. ClockNote.Of(stored, watch, end),
                .. OfFaults(stored, watch, momentUtc, document.Faults, document.Status),
                .. places,
            ],
        };
    }

    private async Task<ReadArrival> ReadProgramAsync(StoredArrival stored, MachineConfig machine, WatchConfig watch,
        string name, byte[]? bytes, CancellationToken token)
    {
        var arrival = stored.Arrival;
        await using var stream = bytes is not null
            ? new MemoryStream(bytes, writable: false)
            : await evidence.OpenEvidenceAsync(arrival.Sha256, token);
        if (stream is null) return Unreadable(stored, watch, arrival.MomentUtc, "its bytes are not in the store");
        var buffer = new byte[ChunkBytes];
        var length = await stream.ReadAtLeastAsync(buffer, buffer.Length, throwOnEndOfStream: false, token);
        var momentUtc = Moments(machine, watch).Find(name, buffer.AsSpan(0, length), arrival.ModifiedUtc).AtUtc;
        using var reader = new ProgramReader(machine, arrival.File, momentUtc);
        for (; length > 0; length = await stream.ReadAsync(buffer, token)) reader.Feed(buffer.AsSpan(0, length));
        var text = reader.Finish();
        return new ReadArrival
        {
            Stored = stored,
            Status = text.Faults.Count == 0 ? ArrivalStatus.Read
                : text.Lines == 0 ? ArrivalStatus.Unreadable
                : ArrivalStatus.Partial,
            Faults = text.Faults,
            Program = text,
            Sightings = OfFaults(stored, watch, momentUtc, text.Faults),
        };
    }

    private static ReadArrival ReadSheet(StoredArrival stored, WatchConfig watch, ReadOnlySpan<byte> bytes)
    {
        var arrival = stored.Arrival;
        var result = SetupSheetReader.Read(bytes, arrival.File, arrival.Sha256, arrival.ModifiedUtc);
        return new ReadArrival
        {
            Stored = stored,
            Status = result.Status,
            Faults = result.Faults,
            Sheet = result.Readings.Count == 0 ? null : result.Readings[0],
            Sightings = OfFaults(stored, watch, arrival.ModifiedUtc, result.Faults),
        };
    }

    private static ReadArrival Unreadable(
        StoredArrival stored, WatchConfig watch, DateTimeOffset momentUtc, string reason) => new()
        {
            Stored = stored,
            Status = ArrivalStatus.Unreadable,
            Faults = [new Fault(0, 0, reason)],
            Sightings = OfFaults(stored, watch, momentUtc, [new Fault(0, 0, reason)]),
        };

    // A dump's faults are read again with it; anything else's stand at a place of their own, for the finding.
    private static IReadOnlyList<StoredSighting> OfFaults(
        StoredArrival stored, WatchConfig watch, DateTimeOffset momentUtc, IReadOnlyList<Fault> faults,
        ArrivalStatus? status = null) =>
        faults.Count == 0 ? [] :
        [
            Sighting(stored, watch, momentUtc, 0) with
            {
                Body = ReadingText.Text(new SightingBody { Faults = faults, Status = status }),
            },
        ];

    internal static StoredSighting Sighting(
        StoredArrival stored, WatchConfig watch, DateTimeOffset atUtc, int line) => new()
        {
            Machine = stored.Arrival.Machine,
            Position = new SightingPosition(atUtc, watch.Index, stored.Arrival.File, stored.Arrival.Sha256, line),
            EarliestUtc = atUtc,
            Arrival = stored.Arrival.Id,
        };

    private static ReadArrival Both(ReadArrival left, ReadArrival right) => right with
    {
        Status = (ArrivalStatus)Math.Max((int)left.Status, (int)right.Status),
        Faults = [.. left.Faults, .. right.Faults],
        Sightings = [.. left.Sightings, .. right.Sightings],
        Moments = left.Moments.Count == 0 ? right.Moments : left.Moments.Concat(right.Moments).ToDictionary(),
        Program = left.Program ?? right.Program,
        Sheet = left.Sheet ?? right.Sheet,
        Waiting = left.Waiting ?? right.Waiting,
    };

    private MomentFinder Moments(MachineConfig machine, WatchConfig watch)
    {
        if (_moments.TryGetValue((machine.Name, watch.Index), out var known)) return known;
        return _moments[(machine.Name, watch.Index)] = new MomentFinder(watch, machine, _clock);
    }

    private PrintOutReader? PrintOuts(MachineConfig machine, WatchConfig watch)
    {
        if (_printOuts.TryGetValue((machine.Name, watch.Index), out var known)) return known;
        return shop.PrintOuts.TryGetValue(watch.Lines ?? "", out var lines)
            ? _printOuts[(machine.Name, watch.Index)] = new PrintOutReader(lines, machine, _clock)
            : null;
    }
}
