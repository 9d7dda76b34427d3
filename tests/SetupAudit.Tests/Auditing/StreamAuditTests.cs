using CsCheck;
using SetupAudit.Shapes;
using SetupAudit.Store;
using SetupAudit.Support;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>What an agent's documents come to, through the whole audit on a real store.</summary>
public sealed class StreamAuditTests
{
    private const string Shop = """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": { "mill-3": { "Kind": "mill", "Units": "mm",
            "Watch": [ { "Folder": "offsets", "Files": "*.xml", "Read": "mtconnect" },
                       { "Folder": "programs", "Files": "*.nc", "Read": "program" } ] } }
        }
        """;

    private const string Program = "%\nO2041 (MADE UP)\nG21\nT3 M6\nG54 G0 X0 Y0\nG43 H3 Z5.\nG1 Z-2. F100\nX50.\nM30\n%\n";

    [Fact]
    public async Task A_corner_without_Z_is_found_when_the_first_cycle_starts_and_cycles_are_told()
    {
        using var bench = Bench();
        bench.Write("offsets/a.xml", Day().Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        await bench.OnceAsync();

        var missing = Assert.Single(await bench.RowsAsync(DerivedKind.Finding), row => row.Id.Contains("axis-not-set", StringComparison.Ordinal));
        Assert.Equal("mill-3@20260302-071000/axis-not-set/G54.Z", missing.Id);
        Assert.Contains("\"at\":\"2026-03-02T08:00:00Z\"", missing.Body, StringComparison.Ordinal);
        Assert.Equal(
        [
            "O2041 2026-03-02T08:00:00Z 2026-03-02T08:20:00Z finished 18",
            "O2041 2026-03-02T08:30:00Z 2026-03-02T08:40:00Z aborted ",
            "O2041 2026-03-02T08:50:00Z 2026-03-02T09:10:00Z finished 19",
        ], await CyclesAsync(bench));
    }

    [Fact]
    public async Task A_change_lies_between_the_last_document_that_showed_the_old_value_and_its_own_moment()
    {
        var agent = Day();
        using var bench = Bench();
        bench.Write("offsets/a.xml", agent.Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        var from = agent.Next;
        agent.Sets("2026-03-02T12:30:00Z", "G54", "X", "-390.000", "Y", "-210.000", "Z", "-300.000");
        bench.Write("offsets/b.xml", agent.Since(from, "2026-03-02T12:31:00Z"), "2026-03-02T12:31:01Z");
        await bench.OnceAsync();

        var change = Assert.Single(await bench.RowsAsync(DerivedKind.Change),
            row => row.Id.StartsWith("mill-3@20260302-123000/", StringComparison.Ordinal));
        Assert.Contains("\"from\":\"2026-03-02T12:00:00Z\",\"to\":\"2026-03-02T12:30:00Z\"", change.Body, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Any_order_of_arrival_of_overlapping_documents_in_any_number_of_runs_derives_the_same()
    {
        var files = Overlapping();
        var expected = await AllAsync(files);
        Assert.True(expected.Count > 12, string.Join('\n', expected));
        var order = Gen.Select(Gen.Shuffle(Enumerable.Range(0, files.Count).ToArray()), Gen.Int[1, 6]);
        await order.SampleAsync(async pick =>
        {
            using var bench = Bench(new FoldLimits { Weight = 5, KeptApart = 1 + pick.Item2 % 3, CheckpointsApart = 2 });
            foreach (var some in pick.Item1.Chunk((files.Count + pick.Item2 - 1) / pick.Item2))
            {
                foreach (var index in some) bench.Write(files[index].Name, files[index].Text, files[index].Modified);
                await bench.OnceAsync();
            }
            Assert.Equal(expected, await bench.DerivedAsync());
            Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        }, iter: 10, threads: 1);
    }

    [Fact]
    public async Task What_two_documents_tell_counts_once()
    {
        var once = await AllAsync([("offsets/a.xml", Day().Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z")]);
        var agent = Day();
        var twice = await AllAsync(
        [
            ("offsets/a.xml", agent.Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z"),
            ("offsets/b.xml", agent.Since(3, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:02Z"),
            ("offsets/c.xml", agent.Current("2026-03-02T12:00:00Z"), "2026-03-02T12:00:03Z"),
        ]);

        Assert.Equal(once, twice);
    }

    [Fact]
    public async Task Observations_that_no_document_holds_are_told_with_their_numbers()
    {
        var agent = Day();
        var read = agent.Next;
        var first = agent.Since(1, "2026-03-02T12:00:00Z");
        for (var at = 0; at < 7; at++) agent.Moves("2026-03-02T12:10:00Z", "1");
        agent.First = read + 7;
        agent.Executes("2026-03-02T12:20:00Z", "ACTIVE");
        using var bench = Bench();
        bench.Write("offsets/a.xml", first, "2026-03-02T12:00:01Z");
        bench.Write("offsets/b.xml", agent.Since(read + 7, "2026-03-02T12:21:00Z"), "2026-03-02T12:21:01Z");
        await bench.OnceAsync();

        var lost = Assert.Single(await FoundAsync(bench, "unreadable"));
        Assert.Contains($"7 observations, numbers {read} to {read + 6}, were", lost.Body, StringComparison.Ordinal);
        Assert.Equal("2026-03-02T12:20:00Z", lost.AtUtc.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'"));
    }

    [Fact]
    public async Task Snapshots_alone_lose_nothing_that_they_ever_promised()
    {
        var agent = Day();
        for (var at = 0; at < 7; at++) agent.Moves("2026-03-02T12:10:00Z", "1");
        var before = Day();
        before.First = 5;
        using var bench = Bench();
        bench.Write("offsets/a.xml", before.Current("2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        agent.First = agent.Next - 1;
        bench.Write("offsets/b.xml", agent.Current("2026-03-02T12:21:00Z"), "2026-03-02T12:21:01Z");
        await bench.OnceAsync();

        Assert.Empty(await FoundAsync(bench, "unreadable"));
    }

    [Fact]
    public async Task An_agent_that_began_anew_is_told_and_its_numbers_are_new_ones()
    {
        using var bench = Bench();
        bench.Write("offsets/a.xml", Day().Executes("2026-03-02T11:00:00Z", "ACTIVE").Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        var anew = new MadeUpAgent(1772500000).Executes("2026-03-02T13:00:00Z", "UNAVAILABLE")
            .Executes("2026-03-02T13:00:05Z", "READY");
        bench.Write("offsets/b.xml", anew.Since(1, "2026-03-02T13:01:00Z"), "2026-03-02T13:01:01Z");
        await bench.OnceAsync();

        var restart = Assert.Single(await FoundAsync(bench, "silent-source"));
        Assert.Contains("was started anew: what happened between 2026-03-02 12:00 and 13:00", restart.Body, StringComparison.Ordinal);
        Assert.Contains("O2041 2026-03-02T11:00:00Z  unknown ", await CyclesAsync(bench));
    }

    [Fact]
    public async Task Unavailable_is_neither_zero_nor_a_change()
    {
        var agent = Day().NoOffsets("2026-03-02T12:10:00Z");
        using var bench = Bench();
        bench.Write("offsets/a.xml", agent.Since(1, "2026-03-02T12:11:00Z"), "2026-03-02T12:11:01Z");
        await bench.OnceAsync();
        var before = await bench.RowsAsync(DerivedKind.Change);
        Assert.DoesNotContain(before, row => row.Id.StartsWith("mill-3@20260302-1210", StringComparison.Ordinal));

        // What came meanwhile is not known: the old value was last shown when it became unavailable, or before.
        var from = agent.Next;
        agent.Sets("2026-03-02T14:00:00Z", "G54", "X", "-390.000", "Y", "-210.000", "Z", "-300.000");
        bench.Write("offsets/b.xml", agent.Since(from, "2026-03-02T14:01:00Z"), "2026-03-02T14:01:01Z");
        await bench.OnceAsync();

        var change = Assert.Single(await bench.RowsAsync(DerivedKind.Change),
            row => row.Id.StartsWith("mill-3@20260302-140000/", StringComparison.Ordinal));
        Assert.Contains("\"from\":\"2026-03-02T07:10:00Z\"", change.Body, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ACTIVE PROGRAM_COMPLETED READY", "finished")]
    [InlineData("ACTIVE READY", "unknown")]
    [InlineData("ACTIVE READY count", "finished")]
    [InlineData("ACTIVE count READY", "finished")]
    [InlineData("ACTIVE count count READY", "unknown")]
    [InlineData("ACTIVE STOPPED", "aborted")]
    [InlineData("ACTIVE FEED_HOLD READY", "aborted")]
    [InlineData("ACTIVE FEED_HOLD ACTIVE PROGRAM_COMPLETED", "finished")]
    [InlineData("ACTIVE OPTIONAL_STOP ACTIVE INTERRUPTED ACTIVE STOPPED", "aborted")]
    [InlineData("ACTIVE UNAVAILABLE READY", "unknown")]
    [InlineData("ACTIVE ACTIVE PROGRAM_COMPLETED", "unknown finished")]
    [InlineData("ACTIVE PROGRAM_COMPLETED ACTIVE PROGRAM_COMPLETED", "finished finished")]
    [InlineData("MANUAL_DATA_INPUT ACTIVE READY AUTOMATIC ACTIVE PROGRAM_COMPLETED", "finished")]
    [InlineData("MANUAL ACTIVE READY", "")]
    [InlineData("INTERRUPTED ACTIVE PROGRAM_COMPLETED", "finished")]
    public async Task Only_what_the_agent_calls_completed_or_counts_is_finished(string words, string ended)
    {
        var agent = new MadeUpAgent().Sets("2026-03-02T06:00:00Z", "G54", "X", "-1.000").Program("2026-03-02T06:00:00Z", "O2041")
            .Counts("2026-03-02T06:00:00Z", "17").Sets("2026-03-02T07:00:00Z", "G54", "X", "-2.000");
        var (minute, parts) = (0, 17);
        foreach (var word in words.Split(' '))
        {
            var at = $"2026-03-02T08:{minute++:00}:00Z";
            _ = word is "count" ? agent.Counts(at, $"{++parts}")
                : word is "MANUAL" or "AUTOMATIC" or "MANUAL_DATA_INPUT" ? agent.Mode(at, word)
                : agent.Executes(at, word);
        }
        using var bench = Bench();
        bench.Write("offsets/a.xml", agent.Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        await bench.OnceAsync();

        Assert.Equal(ended, string.Join(' ', (await CyclesAsync(bench)).Select(cycle => cycle.Split(' ')[3])));
    }

    [Fact]
    public async Task A_sub_programs_name_does_not_become_the_program_in_hand()
    {
        var agent = new MadeUpAgent().Program("2026-03-02T07:00:00Z", "O2041").Executes("2026-03-02T08:00:00Z", "ACTIVE")
            .Program("2026-03-02T08:01:00Z", "O9001").Program("2026-03-02T08:02:00Z", "O2041")
            .Executes("2026-03-02T08:10:00Z", "PROGRAM_COMPLETED").Executes("2026-03-02T08:20:00Z", "ACTIVE")
            .Executes("2026-03-02T08:30:00Z", "PROGRAM_COMPLETED");
        using var bench = Bench();
        bench.Write("offsets/a.xml", agent.Since(1, "2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        await bench.OnceAsync();

        Assert.All(await CyclesAsync(bench), cycle => Assert.StartsWith("O2041 ", cycle, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Snapshots_that_show_the_same_again_fold_nothing_again()
    {
        var agent = Day();
        using var bench = Bench();
        bench.Write("offsets/a-120000.xml", agent.Current("2026-03-02T12:00:00Z"), "2026-03-02T12:00:01Z");
        await bench.OnceAsync();
        bench.Write("offsets/a-130000.xml", agent.Current("2026-03-02T13:00:00Z"), "2026-03-02T13:00:01Z");
        await bench.OnceAsync();

        using var reader = await StoreReader.OpenAsync(bench.StoreFolder, Token);
        var places = new List<string>();
        await foreach (var sighting in reader.SightingsAsync("mill-3", null, Token))
            if (sighting.Position.File == "offsets/a-130000.xml") places.Add(Word.Of(sighting.Position.AtUtc));
        Assert.Equal(["2026-03-02T13:00:00Z"], places);
    }

    private static AuditBench Bench(FoldLimits? limits = null)
    {
        var bench = new AuditBench { Config = Shop, Limits = limits ?? new FoldLimits() };
        bench.Write("programs/O2041.nc", Program, "2026-03-01T12:00:00Z");
        return bench;
    }

    // A corner is taken in X and Y at ten past seven; Z is forgotten. Three runs, the second of them stopped.
    private static MadeUpAgent Day() => new MadeUpAgent()
        .Sets("2026-03-02T06:00:00Z", "G54", "X", "-400.000", "Y", "-200.000", "Z", "-300.000")
        .Sets("2026-03-02T06:00:00Z", "G55", "X", "-100.000", "Y", "-100.000", "Z", "-100.000")
        .Tool("2026-03-02T06:00:00Z", "3", "121.350")
        .Counts("2026-03-02T06:00:00Z", "17")
        .Executes("2026-03-02T06:00:00Z", "READY")
        .Program("2026-03-02T07:00:00Z", "O2041.NC")
        .Sets("2026-03-02T07:10:00Z", "G54", "X", "-412.375", "Y", "-210.000", "Z", "-300.000")
        .Executes("2026-03-02T08:00:00Z", "ACTIVE").Counts("2026-03-02T08:19:59Z", "18")
        .Executes("2026-03-02T08:20:00Z", "PROGRAM_COMPLETED").Executes("2026-03-02T08:20:01Z", "READY")
        .Executes("2026-03-02T08:30:00Z", "ACTIVE").Executes("2026-03-02T08:35:00Z", "FEED_HOLD")
        .Executes("2026-03-02T08:40:00Z", "READY")
        .Executes("2026-03-02T08:50:00Z", "ACTIVE").Counts("2026-03-02T09:10:00Z", "19")
        .Executes("2026-03-02T09:10:00Z", "READY");

    // Pieces that overlap, snapshots between them, the same again under another name and time, a gap and a restart.
    private static List<(string Name, string Text, string Modified)> Overlapping()
    {
        var agent = Day();
        var files = new List<(string, string, string)>
        {
            ("offsets/1.xml", agent.Since(1, "2026-03-02T08:20:00Z", 10), "2026-03-02T08:20:02Z"),
            ("offsets/2.xml", agent.Since(6, "2026-03-02T09:11:00Z"), "2026-03-02T09:11:02Z"),
            ("offsets/2-again.xml", agent.Since(6, "2026-03-02T09:11:00Z"), "2026-03-02T09:12:02Z"),
            ("offsets/now.xml", agent.Current("2026-03-02T10:00:00Z"), "2026-03-02T10:00:02Z"),
        };
        agent.Sets("2026-03-02T11:00:00Z", "G54", "X", "-390.000", "Y", "-190.000", "Z", "-310.000")
            .Executes("2026-03-02T11:20:00Z", "ACTIVE").Executes("2026-03-02T11:40:00Z", "PROGRAM_COMPLETED");
        files.Add(("offsets/0-now.xml", agent.Current("2026-03-02T12:00:00Z"), "2026-03-02T12:00:02Z"));
        var from = agent.Next + 4;
        agent.Moves("2026-03-02T12:10:00Z", "1").Moves("2026-03-02T12:11:00Z", "2").Moves("2026-03-02T12:12:00Z", "3")
            .Moves("2026-03-02T12:13:00Z", "4").Executes("2026-03-02T12:20:00Z", "ACTIVE")
            .Executes("2026-03-02T12:50:00Z", "READY");
        agent.First = from;
        files.Add(("offsets/3.xml", agent.Since(from, "2026-03-02T13:00:00Z"), "2026-03-02T13:00:02Z"));
        var anew = new MadeUpAgent(1772500000).Executes("2026-03-02T14:00:00Z", "UNAVAILABLE")
            .Sets("2026-03-02T14:00:01Z", "G54", "X", "-390.000", "Y", "-190.000", "Z", "-311.000")
            .Executes("2026-03-02T14:00:02Z", "ACTIVE").Executes("2026-03-02T14:30:00Z", "STOPPED");
        files.Add(("offsets/4.xml", anew.Since(1, "2026-03-02T15:00:00Z"), "2026-03-02T15:00:02Z"));
        files.Add(("offsets/error.xml", "<MTConnectError/>", "2026-03-02T16:00:00Z"));
        return files;
    }

    private static async Task<List<string>> AllAsync(IReadOnlyList<(string Name, string Text, string Modified)> files)
    {
        using var bench = Bench();
        foreach (var (name, text, modified) in files) bench.Write(name, text, modified);
        await bench.OnceAsync();
        return await bench.DerivedAsync();
    }

    private static async Task<List<string>> CyclesAsync(AuditBench bench) =>
    [
        .. (await bench.RowsAsync(DerivedKind.Cycle)).Select(row => ShapeBody.Read<CycleView>(row.Body).ToCycle())
            .OrderBy(cycle => cycle.StartUtc)
            .Select(cycle => $"{cycle.Program} {Word.Of(cycle.StartUtc)} {(cycle.EndUtc is { } end ? Word.Of(end) : "")} "
                + $"{Word.Of(cycle.Ended)} {cycle.Count}"),
    ];

    private static async Task<List<StoredDerived>> FoundAsync(AuditBench bench, string rule) =>
        [.. (await bench.RowsAsync(DerivedKind.Finding)).Where(row => row.Id.Contains($"/{rule}/", StringComparison.Ordinal))];
}
