using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using SetupAudit.Evidence;
using SetupAudit.Store;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Benchmarks;

/// <summary>
/// Verifying a record of a million entries by its digests: bodies, tree, signatures, sealed rows. Two arrivals a
/// transaction make four entries and a signed checkpoint. Without evidence, which costs what its bytes cost. Making the
/// store takes minutes, which the benchmark library would not wait for: in a folder that is named it stays, and is not
/// made again.
/// </summary>
internal static class Verifying
{
    private const int Entries = 1_000_000;
    private const int EntriesTogether = 4;
    private const int Times = 3;
    private static readonly DateTimeOffset Monday = new(2026, 3, 2, 7, 0, 0, TimeSpan.Zero);

    public static async Task RunAsync(TextWriter output, string? kept)
    {
        var folder = kept ?? Directory.CreateTempSubdirectory("verifying-").FullName;
        try
        {
            var clock = Stopwatch.StartNew();
            var made = await FillAsync(folder);
            await output.WriteLineAsync($"made {made} entries, {made / clock.Elapsed.TotalSeconds:F0} a second, durable");
            for (var time = 0; time < Times; time++)
            {
                var (before, cpu) = (clock.Elapsed, Process.GetCurrentProcess().TotalProcessorTime);
                var check = await StoreVerifier.RunAsync(
                    new VerifyOptions { Folder = folder, WithEvidence = false }, default);
                if (!check.Holds) throw new InvalidOperationException(check.Faults[0].Text);
                var peak = Process.GetCurrentProcess().PeakWorkingSet64 >> 20;
                var spent = Process.GetCurrentProcess().TotalProcessorTime - cpu;
                await output.WriteLineAsync($"verified to {check.VerifiedTo}, {check.Checkpoints} signatures, {check.Rows} "
                    + $"rows: {(clock.Elapsed - before).TotalSeconds:F1} s, {spent.TotalSeconds:F1} s of processor, {peak} MiB at most");
            }
        }
        finally
        {
            if (kept is null) Directory.Delete(folder, recursive: true);
        }
    }

    // Goes on where an earlier run stopped.
    private static async Task<long> FillAsync(string folder)
    {
        await using var store = await AuditStore.OpenAsync(folder, new RecordOptions(), TimeProvider.System, default);
        var there = store.Record?.Size ?? 0;
        for (var number = there / EntriesTogether; number < Entries / EntriesTogether; number++)
            await store.TakeInAsync(new TakeInBatch { Arrivals = [Dump(2 * number), Dump(2 * number + 1)] }, default);
        return (store.Record?.Size ?? 0) - there;
    }

    private static TakenArrival Dump(long number)
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
