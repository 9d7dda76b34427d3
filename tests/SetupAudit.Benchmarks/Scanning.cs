using System.Globalization;
using BenchmarkDotNet.Attributes;
using SetupAudit.Shares;
using SetupAudit.Shop;

namespace SetupAudit.Benchmarks;

/// <summary>
/// Scans of a local folder of 6 KB dumps. Unchanged: what a poll costs when nothing happened. First: listing, reading
/// and hashing all of it, without a store behind. Appended: one line more in a print-out of 10 MB.
/// Run: dotnet run -c Release --project tests/SetupAudit.Benchmarks -- --filter "*Scanning*"
/// </summary>
public class Scanning
{
    private const int DumpBytes = 6144;
    private const int PrintOutBytes = 10 << 20;

    private readonly LocalFiles _files = new();
    private readonly EntryVisitor _sum;
    private long _bytes;
    private string _folder = "";
    private FolderScan? _polled;
    private FolderScan? _printed;
    private string _log = "";

    public Scanning() => _sum = (_, _, stamp) => _bytes += stamp.SizeBytes;

    [Params(1000, 10_000)]
    public int Files { get; set; }

    [GlobalSetup]
    public void MakeFolder()
    {
        _folder = Directory.CreateTempSubdirectory("setupaudit-scanning-").FullName;
        var bytes = new byte[DumpBytes];
        bytes.AsSpan().Fill((byte)'X');
        var old = new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc);
        for (var i = 0; i < Files; i++)
        {
            var path = Path.Combine(_folder, string.Create(CultureInfo.InvariantCulture, $"O{i:00000}.nc"));
            File.WriteAllBytes(path, bytes);
            File.SetLastWriteTimeUtc(path, old);
        }

        _polled = New("*.nc", SourceKind.DataSetting);
        Scan(_polled);
        _log = Path.Combine(_folder, "prints.log");
        const string line = "2026-03-02 07:14:20 CYCLE START O2041\n";
        File.WriteAllText(_log, string.Concat(Enumerable.Repeat(line, PrintOutBytes / line.Length)));
        _printed = New("*.log", SourceKind.PrintOut);
        Scan(_printed);
    }

    [GlobalCleanup]
    public void RemoveFolder() => Directory.Delete(_folder, recursive: true);

    /// <summary>The listing alone, with each file's size and time.</summary>
    [Benchmark]
    public long Listed()
    {
        _bytes = 0;
        _files.List(_folder, _sum);
        return _bytes;
    }

    [Benchmark]
    public ScanReport? Unchanged() => Scan(_polled);

    [Benchmark]
    public ScanReport? First() => Scan(New("*.nc", SourceKind.DataSetting));

    [Benchmark]
    public ScanReport? Appended()
    {
        File.AppendAllText(_log, "2026-03-02 07:41:09 CYCLE END O2041\n");
        return Scan(_printed);
    }

    private static ScanReport? Scan(FolderScan? scan) => scan?.Run(_ => { }, CancellationToken.None);

    // Settle is nothing, so that what was appended just now is read in the same scan.
    private FolderScan New(string files, SourceKind read) => new(
        new ShareSource("mill-3", new WatchConfig
        {
            Index = 0,
            Folder = "offsets",
            FullFolder = _folder,
            Files = files,
            Read = read,
            Settle = TimeSpan.Zero,
            Rehash = TimeSpan.FromDays(1),
        }),
        new LocalFiles(),
        TimeProvider.System,
        []);
}
