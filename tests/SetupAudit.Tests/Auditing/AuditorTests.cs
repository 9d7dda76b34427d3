using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

public sealed class AuditorTests
{
    [Fact]
    public async Task A_day_of_dumps_and_print_outs_becomes_a_setup_with_its_changes_cycles_and_findings()
    {
        using var bench = new AuditBench();
        Fill(bench);
        var summary = await bench.OnceAsync();

        Assert.False(summary.SomethingIsWrong);
        Assert.Equal(["mill-3@20260302-071000"], (await bench.RowsAsync(DerivedKind.Setup)).Select(row => row.Id));
        Assert.Contains("mill-3@20260302-071000/G54.X", (await bench.RowsAsync(DerivedKind.Change)).Select(row => row.Id));
        Assert.Equal(2, (await bench.RowsAsync(DerivedKind.Cycle)).Count);
        Assert.Single(await bench.RowsAsync(DerivedKind.Measurement));
        Assert.Equal("O2041", Assert.Single(await bench.RowsAsync(DerivedKind.Program)).Id.Split('/')[1].Split('#')[0]);
        Assert.Contains("mill-3@20260302-071000/axis-not-set/G54.Z",
            (await bench.RowsAsync(DerivedKind.Finding)).Select(row => row.Id));
        Assert.Equal(6, (await bench.RowsAsync(DerivedKind.Arrival)).Count);
    }

    [Fact]
    public async Task What_a_service_took_in_and_had_no_time_to_read_is_no_difference_of_the_record()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        Assert.Equal(0, (await bench.RebuildAsync()).Waiting);
        await using (var store = await AuditStore.OpenAsync(
            bench.StoreFolder, RecordOptions.Of(bench.Options().Shop), TimeProvider.System, Token))
            await store.TakeInAsync(TempStore.Batch(TempStore.Dump(Dump(-9m, -9m, -9m), 3600)), Token);

        var report = await bench.RebuildAsync();

        Assert.Equal(1, report.Waiting);
        Assert.Equal(0, report.DifferenceCount);
        Assert.True(report.Compared > 0);
    }

    [Fact]
    public async Task Looking_again_takes_nothing_in_and_records_nothing()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        var before = await bench.DerivedAsync();
        bench.Now = bench.Now.AddHours(1);
        var summary = await bench.OnceAsync();

        Assert.All(summary.Machines, machine => Assert.Equal(0, machine.Read));
        Assert.Equal(before, await bench.DerivedAsync());
        Assert.DoesNotContain(await bench.RowsAsync(DerivedKind.Finding, withdrawn: true), row => row.Withdrawn is not null);
    }

    [Fact]
    public async Task What_cannot_be_read_is_listed_makes_a_finding_and_leaves_the_others_unharmed()
    {
        using var bench = new AuditBench();
        Fill(bench);
        bench.Write("offsets/broken.nc", "%\nG10 L2 P1 X--5\n%\n", "2026-03-02T09:00:00Z");
        bench.Write("sheets/O9.json", "{ \"Program\": ", "2026-03-02T09:00:00Z");
        var summary = await bench.OnceAsync();

        Assert.True(summary.SomethingIsWrong);
        Assert.Equal(2, summary.Machines.Sum(machine => machine.NotWhole));
        Assert.Single((await bench.RowsAsync(DerivedKind.Setup)));
        var found = (await bench.RowsAsync(DerivedKind.Finding)).Where(row => row.Id.Contains("/unreadable/", StringComparison.Ordinal)).ToList();
        Assert.Equal(["", "mill-3"], found.Select(row => row.Machine).Order());
        Assert.Contains("offsets/broken.nc could not be read", found.Single(row => row.Machine == "mill-3").Body, StringComparison.Ordinal);
        Assert.Contains((await bench.RowsAsync(DerivedKind.Arrival)), row => row.Body.Contains("\"unreadable\"", StringComparison.Ordinal));

        // Looking again changes nothing of it.
        await bench.OnceAsync();
        Assert.Equal(found, (await bench.RowsAsync(DerivedKind.Finding)).Where(row => row.Id.Contains("/unreadable/", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_folder_that_is_not_there_is_a_fault_of_its_machine_and_holds_nobody_back()
    {
        using var bench = new AuditBench();
        Fill(bench);
        Directory.Delete(Path.Combine(bench.Folder, "offsets-4"));
        var summary = await bench.OnceAsync();

        Assert.Contains("offsets-4", Assert.Single(summary.Machines.Single(machine => machine.Machine == "mill-4").SourceFaults), StringComparison.Ordinal);
        Assert.Single(await bench.RowsAsync(DerivedKind.Setup));
    }

    [Fact]
    public async Task What_rests_on_quiet_is_judged_once_the_horizon_has_passed_it()
    {
        using var bench = new AuditBench { Now = new DateTimeOffset(2026, 3, 2, 7, 30, 0, TimeSpan.Zero) };
        bench.Write("offsets/a.nc", Dump(-400, -200, -300), "2026-03-02T07:00:00Z");
        bench.Write("offsets/b.nc", Dump(-410, -210, -300), "2026-03-02T07:10:00Z");
        bench.Write("prints/day.log", "2026-03-02 07:09:00 SET G54 X -410\n2026-03-02 07:09:30 SET G54 Y -210\n", "2026-03-02T07:10:00Z");
        await bench.OnceAsync();
        Assert.Empty(await bench.RowsAsync(DerivedKind.Finding));

        bench.Now = new DateTimeOffset(2026, 3, 2, 7, 56, 0, TimeSpan.Zero);
        await bench.OnceAsync();
        var finding = Assert.Single(await bench.RowsAsync(DerivedKind.Finding));
        Assert.Equal("mill-3@20260302-070900/axis-not-set/G54.Z", finding.Id);
        Assert.Equal(new DateTimeOffset(2026, 3, 2, 7, 54, 30, TimeSpan.Zero), finding.AtUtc);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task What_comes_late_withdraws_what_no_longer_holds_and_says_why()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        bench.Append("prints/day.log", "", "2026-03-02T08:00:00Z");
        bench.Write("prints/other.log", "2026-03-02 07:12:00 SET G54 Z -320.000\n", "2026-03-02T07:12:00Z");
        bench.Now = bench.Now.AddMinutes(5);
        await bench.OnceAsync();

        Assert.DoesNotContain(await bench.RowsAsync(DerivedKind.Finding), row => row.Id.EndsWith("axis-not-set/G54.Z", StringComparison.Ordinal));
        var gone = (await bench.RowsAsync(DerivedKind.Finding, withdrawn: true)).Single(row => row.Id.EndsWith("axis-not-set/G54.Z", StringComparison.Ordinal));
        Assert.Equal("evidence that came later says otherwise", gone.Withdrawn);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task Another_configuration_reads_all_evidence_again_and_withdraws_with_that_reason()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        var before = await bench.DerivedAsync();
        bench.Config = Configuration.Replace("\"PrintOuts\"", "\"Rules\": { \"axis-not-set\": \"off\" }, \"PrintOuts\"", StringComparison.Ordinal);
        await bench.OnceAsync();

        Assert.Empty(await bench.RowsAsync(DerivedKind.Finding));
        Assert.All((await bench.RowsAsync(DerivedKind.Finding, withdrawn: true)), row =>
            Assert.StartsWith("the configuration changed", row.Withdrawn, StringComparison.Ordinal));
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);

        bench.Config = Configuration;
        await bench.OnceAsync();
        Assert.Equal(before, await bench.DerivedAsync());
    }

    [Fact]
    public async Task A_source_the_configuration_takes_away_says_nothing_any_more_and_its_arrivals_stay_listed()
    {
        using var bench = new AuditBench();
        Fill(bench);
        bench.Write("offsets-4/a.nc", Dump(-1, -1, -1), "2026-03-02T07:00:00Z");
        bench.Write("offsets-4/b.nc", Dump(-2, -1, -1), "2026-03-02T08:00:00Z");
        await bench.OnceAsync();
        Assert.NotEmpty(await bench.RowsAsync(DerivedKind.Change, "mill-4"));
        var arrivals = (await bench.RowsAsync(DerivedKind.Arrival)).Count;
        var from = Configuration.IndexOf(",\n    \"mill-4\"", StringComparison.Ordinal);
        bench.Config = Configuration.Remove(from, Configuration.IndexOf("] }", from, StringComparison.Ordinal) + 3 - from);
        await bench.OnceAsync();

        Assert.Empty(await bench.RowsAsync(DerivedKind.Change, "mill-4"));
        Assert.All(await bench.RowsAsync(DerivedKind.Change, "mill-4", withdrawn: true),
            row => Assert.Equal("the configuration no longer names mill-4", row.Withdrawn));
        Assert.Equal(arrivals, (await bench.RowsAsync(DerivedKind.Arrival)).Count);
    }

    [Fact]
    public async Task Another_program_version_derives_again_and_says_so()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        var before = await bench.DerivedAsync();
        bench.Version = "1.1";
        var summary = await bench.OnceAsync();

        Assert.Equal(6, summary.Machines.Sum(machine => machine.Read));
        Assert.Equal(before, await bench.DerivedAsync());
    }

    [Fact]
    public async Task Rebuilding_finds_a_row_that_nothing_brings_forth_and_one_that_was_altered()
    {
        using var bench = new AuditBench();
        Fill(bench);
        await bench.OnceAsync();
        var report = await bench.RebuildAsync();
        Assert.Equal(0, report.DifferenceCount);
        Assert.True(report.Compared > 15);

        await using (var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={bench.StoreFolder}/audit.db;Pooling=False"))
        {
            await connection.OpenAsync(Token);
            await using var command = connection.CreateCommand();
            command.CommandText = """
                INSERT INTO derived (machine, kind, id, scope_utc, at_utc, setup, body, batch)
                SELECT machine, kind, id, scope_utc, at_utc, setup, replace(body, '-410', '-411'), batch FROM derived
                WHERE kind = 'change' AND id LIKE '%G54.X' AND at_utc > '2026-03-02T07:05';
                INSERT INTO derived (machine, kind, id, scope_utc, at_utc, setup, body, batch)
                VALUES ('mill-3', 'finding', 'made-up', '2026-03-02T07:00:00.0000000Z', '2026-03-02T07:00:00.0000000Z', NULL, '{}', 1);
                """;
            await command.ExecuteNonQueryAsync(Token);
        }
        report = await bench.RebuildAsync();
        Assert.Equal(["made-up", "mill-3@20260302-071000/G54.X"], report.Differences.Select(one => one.Id).Order(StringComparer.Ordinal));
        Assert.Null(report.Differences.Single(one => one.Id == "made-up").Rebuilt);
    }

    [Fact]
    public async Task The_service_takes_in_what_comes_derives_it_and_stops_when_asked()
    {
        using var bench = new AuditBench();
        bench.Config = Configuration.Replace("\"Europe/London\"", "\"Europe/London\", \"Poll\": \"00:00:00.2\", \"Settle\": \"00:00:00.2\"", StringComparison.Ordinal);
        Fill(bench);
        var auditor = new Auditor(bench.Options(), new Shares.LocalFiles(), TimeProvider.System);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(Token);
        var first = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        var second = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        auditor.OnDerived = summary =>
        {
            if (summary is { Machine: "mill-3", Read: > 0 }) (first.TrySetResult() ? first : second).TrySetResult();
        };
        var running = auditor.RunAsync(stop.Token);
        await first.Task.WaitAsync(TimeSpan.FromMinutes(1), Token);
        Assert.Equal(["mill-3@20260302-071000"], (await bench.RowsAsync(DerivedKind.Setup)).Select(row => row.Id));
        Assert.NotEmpty(auditor.Sources);

        bench.Write("offsets/c.nc", Dump(-450, -250, -300), "2026-03-03T07:10:00Z");
        await second.Task.WaitAsync(TimeSpan.FromMinutes(1), Token);
        Assert.Equal("mill-3@20260303-071000", (await bench.RowsAsync(DerivedKind.Setup))[^1].Id);
        await stop.CancelAsync();
        await running;
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    private static void Fill(AuditBench bench)
    {
        bench.Write("offsets/a.nc", Dump(-400, -200, -300), "2026-03-02T07:00:00Z");
        bench.Write("offsets/b.nc", Dump(-410, -210, -300), "2026-03-02T07:10:00Z");
        bench.Write("programs/O2041.nc", "%\nO2041 (PUMP COVER)\nG21\nT3 M6\nG54 G0 X0 Y0\nG43 H3 Z5.\nG1 Z-2. F100\nX50.\nM30\n%\n", "2026-03-01T12:00:00Z");
        bench.Write("load/waiting.nc", Dump(-1, -2, -3), "2026-03-01T12:00:00Z");
        bench.Write("sheets/O2041.json", """
            { "Program": "O2041", "Part": "pump cover", "Units": "mm", "Datums": [ { "Register": "G54", "Axes": "XYZ", "At": "back-left-top" } ] }
            """, "2026-03-01T12:00:00Z");
        bench.Write("prints/day.log", """
            2026-03-02 07:30:00 START O2041
            2026-03-02 07:35:00 SIZE bore-1 25.001
            2026-03-02 07:40:00 END O2041
            2026-03-02 07:45:00 START O2041
            2026-03-02 07:55:00 END O2041

            """, "2026-03-02T07:55:00Z");
    }
}
