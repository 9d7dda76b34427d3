using CsCheck;
using SetupAudit.People;
using SetupAudit.Shapes;
using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>
/// Evidence is dropped up to a moment: what was derived before stands, and what comes after is derived as in a twin that
/// dropped nothing.
/// </summary>
public sealed class PruneTests
{
    private const string Before = "2026-03-04T05:00:00Z";

    private static readonly IReadOnlyList<(string Name, string Text, string Modified)> Files = [.. OrderTests.Story()];

    [Fact]
    public async Task What_was_derived_stands_byte_for_byte_and_the_bytes_are_gone()
    {
        using var bench = await FilledAsync(Files);
        var (rows, arrivals, bytes) = (await bench.DerivedAsync(), await bench.RowsAsync(DerivedKind.Arrival), bench.EvidenceBytes());

        var plan = await bench.PruneAsync(Before);

        Assert.Equal(
            [("mill-3", Pruned.At("2026-03-03T06:00:00Z"), 8, Pruned.At("2026-03-02T10:10:00Z")),
                ("mill-4", Pruned.At("2026-03-03T05:00:00Z"), 2, Pruned.At("2026-03-02T05:00:00Z"))],
            plan.Machines.Select(machine => (machine.Machine, machine.FromUtc, machine.Arrivals, machine.LastUtc)));
        Assert.Equal(10, plan.Sha256s.Count);
        Assert.Equal(rows, await bench.DerivedAsync());
        Assert.Equal(arrivals, await bench.RowsAsync(DerivedKind.Arrival));
        await bench.OnceAsync();
        Assert.Equal(rows, await bench.DerivedAsync());
        var rebuilt = await bench.RebuildAsync();
        Assert.Equal(0, rebuilt.DifferenceCount);
        Assert.True(rebuilt.Standing > 20, $"{rebuilt.Standing} rows stand");
        Assert.NotEqual(bytes, bench.EvidenceBytes());
        using var reader = await StoreReader.OpenAsync(bench.StoreFolder, Token);
        foreach (var sha256 in plan.Sha256s) Assert.Null(await reader.ReadEvidenceAsync(sha256, Token));
        foreach (var sha256 in arrivals.Select(row => System.Text.Json.JsonDocument.Parse(row.Body).RootElement.GetProperty("sha256").GetString()!)
            .Where(sha256 => !plan.Sha256s.Contains(sha256)))
            Assert.NotNull(await reader.ReadEvidenceAsync(sha256, Token));
    }

    [Fact]
    public async Task Verifying_says_who_dropped_what_and_holds()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var check = await bench.VerifyAsync();
        Assert.Empty(check.Faults);
        Assert.Equal(check.Entries, check.VerifiedTo);
        var remark = Assert.Single(check.Remarks);
        Assert.StartsWith("10 files of evidence were dropped on 2026-03-20, from before 2026-03-04, by Ann Reed (kept for as long as the policy says)",
            remark, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("another version")]
    [InlineData("another severity")]
    [InlineData("another time to be quiet")]
    [InlineData("watched in another order")]
    public async Task What_changes_is_derived_from_the_line_on_as_in_a_twin_that_dropped_nothing(string what)
    {
        using var bench = await FilledAsync(Files.Where(file => Pruned.At(file.Modified) < Pruned.At("2026-03-06T00:00:00Z")));
        using var twin = await FilledAsync(Files.Where(file => Pruned.At(file.Modified) < Pruned.At("2026-03-06T00:00:00Z")));
        await bench.PruneAsync(Before);
        var old = await OldAsync(bench);
        foreach (var one in new[] { bench, twin })
        {
            if (what == "another version") one.Version = "2.0";
            else one.Config = Changed(what);
            await one.OnceAsync();
            foreach (var (name, text, modified) in Files) one.Write(name, text, modified);
            await one.OnceAsync();
        }

        Assert.Equal(old, await OldAsync(bench));
        Assert.Equal(await NewAsync(twin, bench), await NewAsync(bench, bench));
        Assert.True((await NewAsync(bench, bench)).Count > 20);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        Assert.Empty((await bench.VerifyAsync()).Faults);
    }

    [Fact]
    public async Task In_whatever_order_the_rest_comes_the_same_is_derived()
    {
        using var twin = await FilledAsync(Files);
        var (first, rest) = (Files.Where(IsOld).ToArray(), Files.Where(file => !IsOld(file)).ToArray());
        var order = Gen.Select(Gen.Shuffle(first), Gen.Shuffle(rest), Gen.Int[1, 5], Gen.Int[1, 20],
            (first, rest, runs, kept) => (first, rest, runs, kept));
        await order.SampleAsync(async pick =>
        {
            using var bench = new AuditBench { Limits = new FoldLimits { KeptApart = pick.kept, CheckpointsApart = 3, Weight = 5 } };
            foreach (var some in pick.first.Chunk((pick.first.Length + pick.runs - 1) / pick.runs)) await TakeAsync(bench, some);
            await TakeAsync(bench, [("offsets/4-early.nc", Dump(-400, -204, -300), "2026-03-04T06:00:00Z")]);
            await bench.PruneAsync(Before);
            foreach (var some in pick.rest.Chunk((pick.rest.Length + pick.runs - 1) / pick.runs)) await TakeAsync(bench, some);
            Assert.Equal(await NewAsync(twin, bench), await NewAsync(bench, bench));
            Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        }, iter: 8, threads: 1);
    }

    [Fact]
    public async Task A_machine_that_is_no_longer_named_keeps_what_rests_on_dropped_evidence()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var old = (await OldAsync(bench)).Where(row => row.Contains(" mill-4 ", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(old);
        bench.Config = Configuration.Replace("\"mill-4\"", "\"mill-5\"", StringComparison.Ordinal);
        await bench.OnceAsync();
        Assert.Equal(old, (await bench.DerivedAsync()).Where(row => row.Contains(" mill-4 ", StringComparison.Ordinal)));
        Assert.DoesNotContain(await bench.DerivedAsync(), row => row.Contains(" mill-4 mill-4@20260306", StringComparison.Ordinal));
        bench.Config = Configuration;
        await bench.OnceAsync();
        using var twin = await FilledAsync(Files);
        Assert.Equal(await NewAsync(twin, bench), await NewAsync(bench, bench));
    }

    [Fact]
    public async Task Where_numbers_are_given_another_meaning_what_was_known_at_the_line_is_known_no_more()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var old = await OldAsync(bench);
        bench.Config = Configuration.Replace("\"mill-3\": { \"Kind\": \"mill\", \"Units\": \"mm\"", "\"mill-3\": { \"Kind\": \"mill\", \"Units\": \"inch\"", StringComparison.Ordinal);
        await bench.OnceAsync();
        Assert.Equal(old, await OldAsync(bench));
        var first = (await bench.RowsAsync(DerivedKind.Change, "mill-3")).First(row => row.AtUtc >= Pruned.At("2026-03-03T06:00:00Z"));
        Assert.Contains("\"before\":null", first.Body, StringComparison.Ordinal);
        Assert.Contains("\"unit\":\"inch\"", first.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task A_share_that_is_away_for_a_while_winds_no_machine_back_before_its_line()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var rows = await bench.DerivedAsync();
        Directory.Move(Path.Combine(bench.Folder, "prints"), Path.Combine(bench.Folder, "away"));
        await bench.OnceAsync();
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        Directory.Move(Path.Combine(bench.Folder, "away"), Path.Combine(bench.Folder, "prints"));
        await bench.OnceAsync();
        Assert.Equal(rows, await bench.DerivedAsync());
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
    }

    [Fact]
    public async Task What_a_plan_says_is_what_goes_and_making_it_writes_nothing()
    {
        using var bench = await FilledAsync(Files);
        var before = (await bench.VerifyAsync()).Entries;
        var planned = await new Pruner(bench.Options(), TimeProvider.System).PlanAsync(Pruned.At(Before), Token);
        Assert.Equal(before, (await bench.VerifyAsync()).Entries);
        var done = await bench.PruneAsync(Before);
        Assert.Equal(planned.Sha256s.Order(StringComparer.Ordinal), done.Sha256s.Order(StringComparer.Ordinal));
        Assert.Equal(planned.Machines, done.Machines);
        Assert.Empty((await new Pruner(bench.Options(), TimeProvider.System).PlanAsync(Pruned.At(Before), Token)).Sha256s);
    }

    [Fact]
    public async Task A_review_of_a_setup_whose_evidence_was_dropped_is_refused_in_a_sentence()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var setups = (await bench.RowsAsync(DerivedKind.Setup, "mill-3")).Select(row => ShapeBody.Read<SetupView>(row.Body)).ToList();
        using var reader = await StoreReader.OpenAsync(bench.StoreFolder, Token);
        var check = new ReviewCheck(reader, bench.Options().Shop);
        var verdict = await LookAsync(setups[0]);
        Assert.Equal((ActOutcome.Refused, $"The evidence that {setups[0].Setup} rests on was dropped, so it stands as it was; a review of it "
            + "can no longer be shown with it."), (verdict.Outcome, verdict.Says));
        Assert.DoesNotContain("dropped", (await LookAsync(setups[^1])).Says, StringComparison.Ordinal);

        Task<ActVerdict> LookAsync(SetupView setup)
        {
            var review = Review(setup, bench.Now);
            return check.LookAsync(new Act { Id = review.Id, Kind = ActKind.Review, Review = review }, bench.Now, Token);
        }
    }

    [Fact]
    public async Task What_comes_too_late_is_kept_and_told_and_changes_nothing()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var rows = await bench.DerivedAsync();
        bench.Write("offsets/late.nc", Dump(-333, -333, -333), "2026-03-02T08:00:00Z");
        bench.Write("prints/late.log", "2026-03-02 08:00:00 START O2001\n2026-03-02 08:20:00 END O2001\n", "2026-03-02T08:21:00Z");
        await bench.OnceAsync();

        var told = (await bench.DerivedAsync()).Except(rows).ToList();
        Assert.Equal(2, told.Count);
        Assert.All(told, row => Assert.Contains("is kept and changes nothing: it speaks of 2026-03-02T08:00:00Z, and the evidence of mill-3 before",
            row, StringComparison.Ordinal));
        var arrival = Assert.Single(await bench.RowsAsync(DerivedKind.Arrival), row => row.Body.Contains("offsets/late.nc", StringComparison.Ordinal));
        Assert.Contains("\"status\":\"read\",\"reason\":\"it speaks of 2026-03-02", arrival.Body, StringComparison.Ordinal);
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);

        // Told once: neither another version nor another act makes more or less of it.
        var after = await bench.DerivedAsync();
        bench.Version = "2.0";
        await bench.OnceAsync();
        Assert.Equal(after, await bench.DerivedAsync());
        await bench.PruneAsync("2026-03-05T05:00:00Z");
        bench.Version = "3.0";
        await bench.OnceAsync();
        Assert.Equal(after, await bench.DerivedAsync());
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        Assert.Empty((await bench.VerifyAsync()).Faults);
    }

    [Fact]
    public async Task Bytes_that_come_again_after_they_were_dropped_are_kept_again()
    {
        using var bench = await FilledAsync(Files);
        await bench.PruneAsync(Before);
        var (_, text, _) = Files.First(file => file.Name == "offsets/1-early.nc");
        bench.Write("offsets/again.nc", text, "2026-03-07T06:00:00Z");
        await bench.OnceAsync();
        using (var reader = await StoreReader.OpenAsync(bench.StoreFolder, Token))
            Assert.NotNull(await reader.ReadEvidenceAsync(TempStore.Hash(TempStore.Bytes(text)), Token));
        bench.Version = "2.0";
        await bench.OnceAsync();
        using var twin = await FilledAsync([.. Files, ("offsets/again.nc", text, "2026-03-07T06:00:00Z")]);
        Assert.Equal(await NewAsync(twin, bench), await NewAsync(bench, bench));
        Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        var plan = await bench.PruneAsync("2026-03-08T00:00:00Z");
        Assert.DoesNotContain(TempStore.Hash(TempStore.Bytes(text)), plan.Sha256s);
        Assert.Empty((await bench.VerifyAsync()).Faults);
    }

    [Fact]
    public async Task Nothing_goes_where_nothing_is_old_enough()
    {
        using var bench = await FilledAsync(Files);
        var plan = await bench.PruneAsync("2026-02-01T00:00:00Z");
        Assert.Equal((0, 0), (plan.Sha256s.Count, plan.Lines.Count));
        Assert.Empty((await bench.VerifyAsync()).Remarks);
    }

    private static bool IsOld((string Name, string Text, string Modified) file) => Pruned.At(file.Modified) < Pruned.At(Before);

    private static async Task<AuditBench> FilledAsync(IEnumerable<(string Name, string Text, string Modified)> files)
    {
        var bench = new AuditBench();
        await TakeAsync(bench, files);
        return bench;
    }

    private static async Task TakeAsync(AuditBench bench, IEnumerable<(string Name, string Text, string Modified)> files)
    {
        foreach (var (name, text, modified) in files) bench.Write(name, text, modified);
        await bench.OnceAsync();
    }

    private static string Changed(string what) => what switch
    {
        "another severity" => Configuration.Replace("\"Sheets\":", "\"Rules\": { \"tool-not-set\": \"low\", \"datum-from-earlier\": \"stop\" }, \"Sheets\":", StringComparison.Ordinal),
        "another time to be quiet" => Configuration.Replace("\"Sheets\":", "\"Setups\": { \"QuietMinutes\": 20 }, \"Sheets\":", StringComparison.Ordinal),
        _ => Configuration.Replace("""
                { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" },

            """, "", StringComparison.Ordinal).Replace("""
            "Is": "to-load" } ] },
            """, """
            "Is": "to-load" }, { "Folder": "offsets", "Files": "*.nc", "Read": "data-setting" } ] },
            """, StringComparison.Ordinal),
    };

    // Rows before what the states at the lines still hold: these stand whatever comes.
    private static Task<List<string>> OldAsync(AuditBench bench) => PartAsync(bench, bench, isOld: true);

    private static Task<List<string>> NewAsync(AuditBench bench, AuditBench pruned) => PartAsync(bench, pruned, isOld: false);

    private static async Task<List<string>> PartAsync(AuditBench bench, AuditBench pruned, bool isOld)
    {
        using var reader = await StoreReader.OpenAsync(pruned.StoreFolder, Token);
        var rows = new List<string>();
        foreach (var machine in new[] { "mill-3", "mill-4" })
        {
            var floor = (await reader.Prunings.LinesAsync(machine, Token))[0].FloorUtc;
            foreach (var kind in DerivedRows.FoldKinds)
                rows.AddRange((await bench.RowsAsync(kind, machine)).Where(row => row.ScopeUtc < floor == isOld)
                    .Select(row => $"{row.Kind} {row.Machine} {row.Id} {row.Setup} {row.Body}"));
        }
        return rows;
    }
}
