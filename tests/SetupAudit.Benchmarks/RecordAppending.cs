using System.Globalization;
using BenchmarkDotNet.Attributes;
using SetupAudit.Records;
using SetupAudit.Store;

namespace SetupAudit.Benchmarks;

/// <summary>Saying things in the record durably: numbered, hashed, signed over, committed. Operations are entries.</summary>
[MemoryDiagnoser]
[SimpleJob(launchCount: 1, warmupCount: 1, iterationCount: 3, invocationCount: 1)]
public class RecordAppending
{
    private const int Entries = 2560;

    private string _folder = "";
    private AuditStore? _store;
    private List<RecordWord[]> _words = [];
    private int _round;

    /// <summary>How many entries share a transaction.</summary>
    [Params(1, 16, 256)]
    public int Together { get; set; }

    [GlobalSetup]
    public void Begin() => _folder = Directory.CreateTempSubdirectory("append-").FullName;

    [IterationSetup]
    public void Prepare()
    {
        _store?.DisposeAsync().AsTask().Wait();
        _store = AuditStore.OpenAsync(
            Path.Combine(_folder, $"{Together}-{_round++}"), new RecordOptions(), TimeProvider.System, default).Result;
        _words =
        [
            .. Enumerable.Range(0, Entries).Select(number => new RecordWord(RecordKind.Keeping, Said.Of(json =>
            {
                json.WriteString("did", "copied");
                json.WriteString("to", string.Create(CultureInfo.InvariantCulture, $"/mnt/elsewhere/{number:000000}"));
            }))).Chunk(Together),
        ];
    }

    [GlobalCleanup]
    public async Task EndAsync()
    {
        if (_store is not null) await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Benchmark(OperationsPerInvoke = Entries)]
    public async Task AppendAsync()
    {
        if (_store is null) return;
        foreach (var words in _words) await _store.SayAsync(words, default);
    }
}
