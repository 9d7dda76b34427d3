using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using BenchmarkDotNet.Attributes;
using SetupAudit.Evidence;
using SetupAudit.Store;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Benchmarks;

/// <summary>
/// Verifying a record of a million entries by its digests: bodies, tree, signatures, sealed rows. Two arrivals a
/// transaction make four entries and a signed checkpoint. Without evidence, which costs what its bytes cost.
/// </summary>
[SimpleJob(launchCount: 1, warmupCount: 0, iterationCount: 3, invocationCount: 1)]
public class Verifying
{
    private const int Entries = 1_000_000;
    private const int EntriesTogether = 4;
    private static readonly DateTimeOffset Monday = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    private string _folder = "";

    [GlobalSetup]
    public async Task FillAsync()
    {
        _folder = Directory.CreateTempSubdirectory("verifying-").FullName;
        await using var store = await AuditStore.OpenAsync(_folder, new RecordOptions(), TimeProvider.System, default);
        for (var number = 0; number < Entries / EntriesTogether; number++)
            await store.TakeInAsync(new TakeInBatch { Arrivals = [Dump(2 * number), Dump(2 * number + 1)] }, default);
    }

    [GlobalCleanup]
    public void End() => Directory.Delete(_folder, recursive: true);

    [Benchmark]
    public async Task<long> VerifyAsync()
    {
        var options = new VerifyOptions { Folder = _folder, WithEvidence = false };
        var check = await StoreVerifier.RunAsync(options, default);
        return check.Holds ? check.VerifiedTo : throw new InvalidOperationException(check.Faults[0].Text);
    }

    private static TakenArrival Dump(int number)
    {
        var bytes = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"G10 L2 P1 X{number}.\n"));
        return new TakenArrival
        {
            Arrival = new Arrival
            {
                Machine = "mill-3",
                Source = 0,
                File = "offsets/a.nc",
                Sha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
                SizeBytes = bytes.Length,
                ModifiedUtc = Monday.AddSeconds(number),
                MomentUtc = Monday.AddSeconds(number),
                ReceivedUtc = Monday.AddSeconds(number + 3),
            },
            Bytes = bytes,
        };
    }
}
