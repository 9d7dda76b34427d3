using System.Diagnostics;
using System.Globalization;
using SetupAudit.Shares;
using SetupAudit.Shop;

namespace SetupAudit.Benchmarks;

/// <summary>
/// What a poll of 10,000 unchanged files costs, for a machine that is not idle: the processor time of many polls, and
/// the quickest of them. The mean of elapsed times, which the benchmark library gives, would say how busy the machine is.
/// Run: dotnet run -c Release --project tests/SetupAudit.Benchmarks -- polling
/// </summary>
internal static class Polling
{
    private const int Files = 10_000;
    private const int Before = 150;
    private const int Times = 150;

    public static void Run(TextWriter output)
    {
        var folder = Directory.CreateTempSubdirectory("polling-").FullName;
        try
        {
            Fill(folder);
            long bytes = 0;
            var files = new LocalFiles();
            Tell(output, "listed", () => files.List(folder, (_, _, stamp) => bytes += stamp.SizeBytes));
            var scan = new FolderScan(new ShareSource("mill-3", Watch(folder)), files, TimeProvider.System, []);
            Tell(output, "scanned", () => scan.Run(_ => { }, CancellationToken.None));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Tell(TextWriter output, string what, Action poll)
    {
        for (var time = 0; time < Before; time++) poll();
        var garbage = GC.GetAllocatedBytesForCurrentThread();
        var spent = Process.GetCurrentProcess().TotalProcessorTime;
        var quickest = TimeSpan.MaxValue;
        for (var time = 0; time < Times; time++)
        {
            var began = Stopwatch.GetTimestamp();
            poll();
            if (Stopwatch.GetElapsedTime(began) is var took && took < quickest) quickest = took;
        }
        spent = Process.GetCurrentProcess().TotalProcessorTime - spent;
        garbage = GC.GetAllocatedBytesForCurrentThread() - garbage;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{what}: {spent.TotalMicroseconds / Times / Files:F2} µs of processor a file, the quickest "
            + $"{quickest.TotalMicroseconds / Files:F2} µs, {garbage / Times} bytes of garbage for {Files} files"));
    }

    private static void Fill(string folder)
    {
        var old = new DateTime(2026, 3, 1, 0, 0, 0, DateTimeKind.Utc);
        for (var number = 0; number < Files; number++)
        {
            var path = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"O{number:00000}.nc"));
            File.WriteAllText(path, "%\n");
            File.SetLastWriteTimeUtc(path, old);
        }
    }

    private static WatchConfig Watch(string folder) => new()
    {
        Index = 0,
        Folder = "offsets",
        FullFolder = folder,
        Files = "*.nc",
        Read = SourceKind.DataSetting,
        Settle = TimeSpan.Zero,
        Rehash = TimeSpan.FromDays(1),
    };
}
