using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using BenchmarkDotNet.Attributes;
using SetupAudit.Evidence;
using SetupAudit.Store;

namespace SetupAudit.Benchmarks;

/// <summary>Taking in dumps of 6 KB durably: evidence flushed, rows committed, positions moved. Operations are dumps.</summary>
[MemoryDiagnoser]
[SimpleJob(launchCount: 1, warmupCount: 1, iterationCount: 3, invocationCount: 1)]
public class StoreTakeIn
{
    private const int Dumps = 5120;
    private const int Registers = 150;

    private static readonly DateTimeOffset Monday = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private string _folder = "";
    private AuditStore? _store;
    private List<TakeInBatch> _batches = [];
    private int _round;

    /// <summary>How many arrivals share a transaction.</summary>
    [Params(16, 256)]
    public int Together { get; set; }

    [GlobalSetup]
    public void Begin() => _folder = Directory.CreateTempSubdirectory("take-in-").FullName;

    [IterationSetup]
    public void Prepare()
    {
        _store?.DisposeAsync().AsTask().Wait();
        _store = AuditStore.OpenAsync(
            Path.Combine(_folder, $"{Together}-{_round++}"), new RecordOptions(), TimeProvider.System, default).Result;
        _batches = [.. Enumerable.Range(0, Dumps).Select(Dump).Chunk(Together).Select(some => new TakeInBatch
        {
            Arrivals = some,
            Positions = [new SourcePosition("mill-3", "offsets", "offsets.nc", some[^1].Arrival.Sha256)],
        })];
    }

    [GlobalCleanup]
    public async Task EndAsync()
    {
        if (_store is not null) await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Benchmark(OperationsPerInvoke = Dumps)]
    public async Task TakeInAsync()
    {
        if (_store is null) return;
        foreach (var batch in _batches) await _store.TakeInAsync(batch, default);
    }

    // A dump as a control writes it: a line a register, one value different from the dump before.
    private static TakenArrival Dump(int number)
    {
        var text = new StringBuilder("%\nO9000\n");
        for (var register = 1; register <= Registers; register++)
            text.Append(CultureInfo.InvariantCulture,
                $"G10 L20 P{register} X-{300 + register}.{number % 1000:000} Y-{200 + number / 1000}.500 Z-100.{register:000}\n");
        var bytes = Encoding.ASCII.GetBytes(text.Append("M30\n%\n").ToString());
        var arrival = new Arrival
        {
            Machine = "mill-3",
            Source = 0,
            File = "shares/mill-3/offsets/offsets.nc",
            Sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
            SizeBytes = bytes.Length,
            ModifiedUtc = Monday.AddSeconds(number),
            MomentUtc = Monday.AddSeconds(number),
            ReceivedUtc = Monday.AddSeconds(number + 3),
        };
        return new TakenArrival
        {
            Arrival = arrival,
            Bytes = bytes,
        };
    }
}
