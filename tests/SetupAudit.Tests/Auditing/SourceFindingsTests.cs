using System.Globalization;
using SetupAudit.Commands;
using SetupAudit.Shapes;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>Findings about sources: what holds as of the horizon, and only as long as it does.</summary>
public sealed class SourceFindingsTests
{
    private static readonly DateTimeOffset Monday = new(2026, 2, 2, 7, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task A_source_that_stopped_is_told_until_it_writes_again_and_rebuild_says_the_same()
    {
        using var bench = new AuditBench { Now = Monday.AddDays(12) };
        for (var hour = 0; hour < 9 * 24; hour++) Dump(bench, hour);
        await bench.OnceAsync();
        var silent = Assert.Single(await FoundAsync(bench, "silent-source"));
        Assert.StartsWith("mill-3@20260211-", silent.Id, StringComparison.Ordinal);
        Assert.Contains("offsets has been silent since 2026-02-11 06:00", silent.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);

        await bench.OnceAsync();
        Assert.Equal(silent.Id, Assert.Single(await FoundAsync(bench, "silent-source")).Id);
        Dump(bench, (12 * 24) + 1);
        bench.Now = Monday.AddHours((12 * 24) + 3);
        await bench.OnceAsync();

        Assert.Empty(await FoundAsync(bench, "silent-source"));
        var rows = await bench.RowsAsync(DerivedKind.Finding, withdrawn: true);
        Assert.Contains(rows, row => row.Id == silent.Id && row.Withdrawn is not null);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task One_source_may_be_silent_while_another_goes_on()
    {
        using var bench = new AuditBench();
        for (var hour = 0; hour < 9 * 24; hour++) Dump(bench, hour);
        for (var day = 0; day < 40; day++)
            bench.Write($"prints/{day}.log", Text(Monday.AddDays(day), "SIZE bore-1 25.001"), Iso(Monday.AddDays(day)));
        bench.Now = Monday.AddDays(40);
        await bench.OnceAsync();

        var silent = Assert.Single(await FoundAsync(bench, "silent-source"));
        Assert.EndsWith("/silent-source/offsets", silent.Id, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task A_print_out_whose_clock_is_an_hour_off_is_told_until_it_is_put_right()
    {
        using var bench = new AuditBench();
        bench.Write("prints/a.log", Text(Monday, "SIZE bore-1 25.001"), Iso(Monday.AddHours(1)));
        await bench.OnceAsync();

        var off = Assert.Single(await FoundAsync(bench, "clock-off"));
        Assert.Equal("mill-3@20260202-070000/clock-off/prints/print", off.Id);
        Assert.Contains("The times in prints/a.log are 60 min behind the share's clock. What came before and what after "
            + "may be told wrongly until both clocks are right.", off.Body, StringComparison.Ordinal);
        Assert.Contains("\"severity\":\"note\"", off.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);

        bench.Write("prints/b.log", Text(Monday.AddDays(1), "SIZE bore-1 25.001"), Iso(Monday.AddDays(1)));
        await bench.OnceAsync();
        Assert.Empty(await FoundAsync(bench, "clock-off"));
    }

    [Fact]
    public async Task A_file_from_the_future_is_told_with_how_far()
    {
        using var bench = new AuditBench { Now = Monday };
        bench.Write("offsets/a.nc", AuditBench.Dump(-1m, -2m, -3m), Iso(Monday.AddMinutes(90)));
        await bench.OnceAsync();

        var off = Assert.Single(await FoundAsync(bench, "clock-off"));
        Assert.EndsWith("/clock-off/offsets/file", off.Id, StringComparison.Ordinal);
        Assert.Contains("The time of offsets/a.nc was 90 min later than this computer's clock when it was taken in.",
            off.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task A_print_out_that_grows_while_its_time_goes_back_is_told()
    {
        using var bench = new AuditBench();
        bench.Write("prints/a.log", Text(Monday, "SIZE bore-1 25.001"), Iso(Monday.AddMinutes(4)));
        await bench.OnceAsync();
        bench.Append("prints/a.log", Text(Monday, "SIZE bore-2 25.001"), Iso(Monday));
        await bench.OnceAsync();

        var off = Assert.Single(await FoundAsync(bench, "clock-off"));
        Assert.Contains("The time of prints/a.log went back by 4 min while it grew.", off.Body, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_found_without_a_source_says_so_until_it_can_be_read_again()
    {
        using var bench = new AuditBench();
        bench.Write("programs/O2041.nc", "%\nO2041 (COVER)\nG90 G54\nG0 X0. Y0.\nG1 Z-1. F100.\nX10.\nM30\n%\n",
            "2026-03-02T06:00:00Z");
        bench.Write("prints/a.log", "2026-03-02 07:00:00 START O2041\n2026-03-02 07:05:00 END O2041\n",
            "2026-03-02T07:05:00Z");
        bench.Write("offsets/a.nc", AuditBench.Dump(-1m, -2m, -3m), "2026-03-02T07:06:00Z");
        bench.Now = new DateTimeOffset(2026, 3, 2, 7, 30, 0, TimeSpan.Zero);
        await bench.OnceAsync();
        bench.Write("offsets/b.nc", AuditBench.Dump(-11m, -12m, -3m), "2026-03-02T08:00:00Z");
        Directory.Move(Path.Combine(bench.Folder, "prints"), Path.Combine(bench.Folder, "away"));
        bench.Now = new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero);
        await bench.OnceAsync();

        const string without = "Found without prints (read until 2026-03-02 07:30), which cannot be read now and may tell "
            + "otherwise.";
        var found = Assert.Single(await FoundAsync(bench, "axis-not-set"));
        Assert.Contains(without, found.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        await bench.OnceAsync();
        Assert.Equal(found.Body, Assert.Single(await FoundAsync(bench, "axis-not-set")).Body);
        var (ready, trace) = await AskedAsync(bench);
        Assert.Contains("prints cannot be read now", string.Join('\n', ready.Unknown), StringComparison.Ordinal);
        Assert.Contains(ready.Findings, one => one.Message.Contains(without, StringComparison.Ordinal));
        Assert.Contains("\"foundWithout\":[{\"source\":\"prints\",\"readUntil\":\"2026-03-02T07:30:00Z\"}]", trace,
            StringComparison.Ordinal);

        Directory.Move(Path.Combine(bench.Folder, "away"), Path.Combine(bench.Folder, "prints"));
        await bench.OnceAsync();
        Assert.DoesNotContain("Found without", Assert.Single(await FoundAsync(bench, "axis-not-set")).Body,
            StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    private static async Task<(ReadyView Ready, string Trace)> AskedAsync(AuditBench bench)
    {
        File.WriteAllText(Path.Combine(bench.Folder, "shop.json"), bench.Config);
        using var written = new StringWriter(CultureInfo.InvariantCulture);
        var terminal = new Terminal
        {
            Out = written,
            Errors = TextWriter.Null,
        };
        await CommandLine.RunAsync(["trace", "--machine", "mill-3", "--at", "2026-03-02T08:10", "--error", "X=0.25",
            "--json", "--config", Path.Combine(bench.Folder, "shop.json")], terminal, AuditBench.Token);
        using var store = await StoreReader.OpenAsync(bench.StoreFolder, AuditBench.Token);
        var options = bench.Options();
        var machine = options.Shop.Machines[0];
        var now = await MachineNow.ReadAsync(options.Shop, machine, store, AuditBench.Token);
        var derived = now.Derivation.Ready(now.State, "O2041", bench.Now, now.Unread);
        return (Readiness.Of(new ReadyCase
        {
            Machine = machine,
            Setup = derived.Setup,
            Programs = derived.Programs,
            Findings = derived.Findings,
            HasSetup = true,
            NowUtc = bench.Now,
            Fresh = TimeSpan.FromHours(12),
            Unread = now.Unread,
        }), written.ToString());
    }

    private static async Task<List<StoredDerived>> FoundAsync(AuditBench bench, string rule) =>
        [.. (await bench.RowsAsync(DerivedKind.Finding)).Where(row => row.Id.Contains($"/{rule}/", StringComparison.Ordinal))];

    private static void Dump(AuditBench bench, int hour) => bench.Write(
        string.Create(CultureInfo.InvariantCulture, $"offsets/{hour:0000}.nc"), AuditBench.Dump(-1m, -2m, -3m),
        Iso(Monday.AddHours(hour)));

    private static string Text(DateTimeOffset atUtc, string what) =>
        string.Create(CultureInfo.InvariantCulture, $"{atUtc:yyyy-MM-dd HH:mm:ss} {what}\n");

    private static string Iso(DateTimeOffset momentUtc) => momentUtc.ToString("O", CultureInfo.InvariantCulture);
}
