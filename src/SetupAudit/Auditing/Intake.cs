using System.Collections.Concurrent;
using SetupAudit.Evidence;
using SetupAudit.Metering;
using SetupAudit.Readings;
using SetupAudit.Shares;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>Turns what is found on a share into arrivals, and waits until they are kept.</summary>
internal sealed class Intake : IIntake
{
    private readonly ShopConfig _shop;
    private readonly TakeInQueue _queue;
    private readonly ScanBoard _board;
    private readonly TimeProvider _time;
    private readonly ShopClock _clock;
    private readonly ConcurrentDictionary<ShareSource, IReadOnlyList<Position>> _positions = new();

    private Intake(ShopConfig shop, TakeInQueue queue, ScanBoard board, TimeProvider time)
    {
        (_shop, _queue, _board, _time) = (shop, queue, board, time);
        _clock = new ShopClock(shop);
    }

    /// <summary>The positions are read beforehand: the shares' threads cannot wait for a task.</summary>
    public static async Task<Intake> OpenAsync(ShopConfig shop, IReadOnlyList<ShareSource> sources, StoreReader kept,
        TakeInQueue queue, ScanBoard board, TimeProvider time, CancellationToken token)
    {
        var intake = new Intake(shop, queue, board, time);
        foreach (var source in sources)
        {
            var positions = await kept.PositionsAsync(source.Machine, KeyOf(source), token);
            intake._positions[source] =
                [.. positions.Select(position => new Position(position.Name, position.State ?? ""))];
        }
        return intake;
    }

    /// <summary>Handed over once: the text of ten thousand positions is as much memory as all else.</summary>
    public IReadOnlyList<Position> Positions(ShareSource source) =>
        _positions.TryRemove(source, out var positions) ? positions : [];

    public void TakeIn(ScanBatch batch, CancellationToken cancel)
    {
        var began = _time.GetTimestamp();
        try
        {
            _queue.TakeIn(Batch(batch), cancel);
        }
        catch (StoreException fault)
        {
            throw new NotTakenInException($"what was found could not be taken in: {fault.Message}", fault);
        }
        if (batch.Found.Count == 0) return;
        _board.TookIn(batch.Source);
        Meters.Took(MetricBook.TakeIn, _time.GetElapsedTime(began));
        Meters.Count(MetricBook.Arrivals, batch.Found.Count, batch.Source.Machine);
    }

    public void Ended(ScanReport report) => _board.Ended(report);

    private TakeInBatch Batch(ScanBatch batch) => new()
    {
        Arrivals = [.. batch.Found.Select(found => new TakenArrival
        {
            Arrival = ArrivalOf(found),
            Bytes = found.Bytes ?? default,
            Open = found is { Bytes: null, Refused: null } ? found.OpenStream : null,
        })],
        Positions =
        [
            .. batch.Positions.Select(position => Place(batch.Source, position.Name, position.State)),
            .. batch.Gone.Select(name => Place(batch.Source, name, null)),
        ],
    };

    private Arrival ArrivalOf(FoundFile found) => new()
    {
        Machine = found.Source.Machine,
        Source = found.Source.Watch.Index,
        File = found.File,
        Sha256 = found.Sha256,
        SizeBytes = found.SizeBytes,
        ModifiedUtc = found.ModifiedUtc,
        MomentUtc = MomentOf(found),
        PreviousUtc = found.PreviousUtc,
        ReceivedUtc = _time.GetUtcNow(),
        OffsetBytes = found.OffsetBytes,
        FirstLine = found.FirstLine,
        Refused = found.Refused,
    };

    private DateTimeOffset MomentOf(FoundFile found)
    {
        if (found.Refused is not null || _shop.Machine(found.Source.Machine) is not { } machine)
            return found.ModifiedUtc;
        var head = found.Bytes ?? (found.Source.Watch.Time == TimeFrom.Text ? Head(found) : default);
        var finder = new MomentFinder(found.Source.Watch, machine, _clock);
        return finder.Find(found.Name, head.Span, found.ModifiedUtc).AtUtc;
    }

    private static ReadOnlyMemory<byte> Head(FoundFile found)
    {
        var head = new byte[MomentFinder.TextMostBytes];
        using var stream = found.OpenStream();
        return head.AsMemory(0, stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false));
    }

    // Another glob, or another way of reading, finds its files anew.
    private static string KeyOf(ShareSource source) =>
        $"{source.Watch.Read} {source.Watch.Folder}/{source.Watch.Files}";

    private static SourcePosition Place(ShareSource source, string name, string? state) =>
        new(source.Machine, KeyOf(source), name, state);
}
