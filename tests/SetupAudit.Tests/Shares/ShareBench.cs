using System.Text;
using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>A share in memory, a clock, and a store that keeps what is taken in, as the Auditing room would.</summary>
internal sealed class ShareBench : IIntake
{
    private readonly Dictionary<string, string> _positions = new(StringComparer.Ordinal);
    private readonly List<string> _texts = [];
    private FolderScan? _scan;

    public ShareBench(SourceKind read = SourceKind.DataSetting, string files = "*.nc", ScanLimits? limits = null)
    {
        Limits = limits;
        Share = new MemoryShare(Clock);
        Source = new ShareSource("mill-3", new WatchConfig
        {
            Index = 0,
            Folder = "shares/mill-3/offsets",
            FullFolder = MemoryShare.Root,
            Files = files,
            Read = read,
        });
    }

    public HandClock Clock { get; } = new();

    public MemoryShare Share { get; }

    public ShareSource Source { get; set; }

    public ScanLimits? Limits { get; }

    /// <summary>All that was made durable, in order.</summary>
    public List<FoundFile> Taken { get; } = [];

    /// <summary>When each of them was, by our clock.</summary>
    public List<DateTimeOffset> TakenAt { get; } = [];

    public List<ScanBatch> Batches { get; } = [];

    public List<ScanReport> Reports { get; } = [];

    /// <summary>Called before a batch is made durable; may throw, as a store does that fails.</summary>
    public Action<ScanBatch> BeforeTakeIn { get; set; } = _ => { };

    public IReadOnlyDictionary<string, string> Kept => _positions;

    /// <summary>What each of them held while it was taken in; empty where it was refused.</summary>
    public IReadOnlyList<string> Texts => _texts;

    public IReadOnlyList<Position> Positions(ShareSource source) =>
        [.. _positions.Select(pair => new Position(pair.Key, pair.Value))];

    public void TakeIn(ScanBatch batch, CancellationToken cancel)
    {
        lock (_positions)
        {
            BeforeTakeIn(batch);
            Batches.Add(batch);
            _texts.AddRange(batch.Found.Select(found => found.Refused is null ? Text(found) : ""));
            Taken.AddRange(batch.Found);
            TakenAt.AddRange(batch.Found.Select(_ => Clock.GetUtcNow()));
            foreach (var position in batch.Positions) _positions[position.Name] = position.State;
            foreach (var name in batch.Gone) _positions.Remove(name);
        }
    }

    public void Ended(ScanReport report)
    {
        lock (_positions) Reports.Add(report);
    }

    /// <summary>One scan, as the same service would make it.</summary>
    public ScanReport Scan()
    {
        _scan ??= new FolderScan(Source, Share, Clock, Positions(Source), Limits);
        var report = _scan.Run(batch => TakeIn(batch, CancellationToken.None), CancellationToken.None);
        Reports.Add(report);
        return report;
    }

    /// <summary>The clock moves on, then one scan.</summary>
    public ScanReport ScanAfter(double seconds)
    {
        Clock.Advance(seconds);
        return Scan();
    }

    /// <summary>Scans every two seconds for so long.</summary>
    public ScanReport ScanFor(double seconds)
    {
        var report = ScanAfter(2);
        for (var done = 2.0; done < seconds; done += 2) report = ScanAfter(2);
        return report;
    }

    /// <summary>The service starts anew from what the store kept.</summary>
    public void Restart() => _scan = null;

    public static string Text(FoundFile found)
    {
        using var reader = new StreamReader(found.OpenStream(), Encoding.Latin1);
        return reader.ReadToEnd();
    }
}
