using CsCheck;
using SetupAudit.Setups;
using SetupAudit.Shapes;
using SetupAudit.Store;
using static SetupAudit.Auditing.AuditBench;

namespace SetupAudit.Auditing;

/// <summary>
/// Contract promise 2: whatever the order of arrival, in however many runs, stopped wherever, the same is derived.
/// </summary>
public sealed class OrderTests
{
    private static readonly IReadOnlyList<(string Name, string Text, string Modified)> Files = [.. Story()];

    // How much is held and kept on the way must not matter either.
    private static readonly Gen<FoldLimits> Limits = Gen.Select(Gen.Int[1, 40], Gen.Int[1, 20], Gen.Int[1, 10],
        (weight, kept, checkpoints) => new FoldLimits { Weight = weight, KeptApart = kept, CheckpointsApart = checkpoints });

    [Fact]
    public async Task Any_order_of_arrival_in_any_number_of_runs_derives_the_same()
    {
        var expected = await AllAtOnceAsync();
        Assert.True(expected.Count > 40);
        var order = Gen.Select(Gen.Shuffle(Enumerable.Range(0, Files.Count).ToArray()), Gen.Int[1, 6], Limits,
            (files, runs, limits) => (files, runs, limits));
        await order.SampleAsync(async pick =>
        {
            using var bench = new AuditBench { Limits = pick.limits };
            foreach (var some in pick.files.Chunk((Files.Count + pick.runs - 1) / pick.runs))
            {
                foreach (var index in some) Write(bench, index);
                await bench.OnceAsync();
            }
            Assert.Equal(expected, await bench.DerivedAsync());
            Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        }, iter: 12, threads: 1);
    }

    [Fact]
    public async Task A_stop_in_the_middle_of_any_write_is_made_good_by_the_next_run()
    {
        var expected = await AllAtOnceAsync();
        var stops = Gen.Select(Gen.Shuffle(Enumerable.Range(0, Files.Count).ToArray()), Gen.Int[1, 30].Array[1, 4], Limits,
            (files, writes, limits) => (files, writes, limits));
        await stops.SampleAsync(async pick =>
        {
            using var bench = new AuditBench { Limits = pick.limits };
            var some = pick.files.Chunk((Files.Count + pick.writes.Length - 1) / pick.writes.Length).ToList();
            for (var run = 0; run < some.Count; run++)
            {
                foreach (var index in some[run]) Write(bench, index);
                await StoppedAtAsync(bench, pick.writes[run]);
            }
            await bench.OnceAsync();
            Assert.Equal(expected, await bench.DerivedAsync());
            Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        }, iter: 12, threads: 1);
    }

    [Fact]
    public async Task Reviews_and_evidence_in_any_order_derive_the_same()
    {
        var (reviews, expected) = await ReviewedAsync();
        Assert.Contains(expected, row => row.Contains("\"status\":\"accepted\"", StringComparison.Ordinal));
        Assert.Contains(expected, row => row.Contains("\"status\":\"rejected\"", StringComparison.Ordinal));
        var things = Enumerable.Range(0, Files.Count + reviews.Count).ToArray();
        var order = Gen.Select(Gen.Shuffle(things), Gen.Int[2, 6], Limits, (all, runs, limits) => (all, runs, limits));
        await order.SampleAsync(async pick =>
        {
            using var bench = new AuditBench { Limits = pick.limits };
            foreach (var some in pick.all.Chunk((things.Length + pick.runs - 1) / pick.runs))
            {
                foreach (var index in some.Where(index => index < Files.Count)) Write(bench, index);
                await bench.KeepAsync([.. some.Where(index => index >= Files.Count)
                    .Select(index => reviews[index - Files.Count])]);
                await bench.OnceAsync();
            }
            Assert.Equal(expected, await bench.DerivedAsync());
            Assert.Equal(0, (await bench.RebuildAsync()).DifferenceCount);
        }, iter: 8, threads: 1);
    }

    // A review of each setup as it is in the end, recorded a day after it opened.
    private static async Task<(IReadOnlyList<Review> Reviews, List<string> Derived)> ReviewedAsync()
    {
        using var bench = new AuditBench();
        for (var index = 0; index < Files.Count; index++) Write(bench, index);
        await bench.OnceAsync();
        var setups = (await bench.RowsAsync(DerivedKind.Setup)).Select(row => ShapeBody.Read<SetupView>(row.Body)).ToList();
        var reviews = setups.Select((setup, index) => AuditBench.Review(setup, setup.OpenedUtc.AddHours(26)) with
        {
            Id = $"review-{index:00}",
            Verdict = index % 3 == 2 ? ReviewVerdict.Rejected : ReviewVerdict.Accepted,
            Cause = index % 4 == 0 ? "riser-height" : null,
        }).ToList();
        await bench.KeepAsync(reviews);
        await bench.OnceAsync();
        return (reviews, await bench.DerivedAsync());
    }

    private static async Task StoppedAtAsync(AuditBench bench, int write)
    {
        var auditor = bench.Auditor();
        var written = 0;
        auditor.OnOpened = store => store.OnStep = step =>
        {
            // From the stop on, nothing is written any more.
            if (step == StoreStep.RowsWritten && ++written >= write) throw new StoppedException();
        };
        try
        {
            await auditor.OnceAsync(Token);
        }
        catch (StoppedException)
        {
            Assert.True(written >= write);
        }
    }

    private static async Task<List<string>> AllAtOnceAsync()
    {
        using var bench = new AuditBench();
        for (var index = 0; index < Files.Count; index++) Write(bench, index);
        await bench.OnceAsync();
        return await bench.DerivedAsync();
    }

    private static void Write(AuditBench bench, int index) =>
        bench.Write(Files[index].Name, Files[index].Text, Files[index].Modified);

    // Six days of a made-up machine: a job a day, its print-out, two versions of its program, a sheet that came late.
    internal static IEnumerable<(string Name, string Text, string Modified)> Story()
    {
        for (var day = 1; day <= 6; day++)
        {
            var date = $"2026-03-{day:00}";
            var program = $"O{2000 + day % 3}";
            yield return ($"offsets/{day}-early.nc", Dump(-400, -200 - day, -300), $"{date}T06:00:00Z");
            yield return ($"offsets/{day}-set.nc", Dump(-400 - 10 * day, -210 - day, day % 2 == 0 ? -300 : -310), $"{date}T07:10:00Z");
            yield return ($"offsets/{day}-run.nc", Dump(-400 - 10 * day, -210.05m - day, -310), $"{date}T10:00:00Z");
            yield return ($"offsets-4/{day}.nc", Dump(-1 * day, -2, -3), $"{date}T05:00:00Z");
            yield return ($"prints/{day}.log", $"""
                {date} 07:08:00 SET G54 X {-400 - 10 * day}.000
                {date} 07:09:00 SIZE bore-1 25.00{day}
                {date} 08:00:00 START {program}
                {date} 08:30:00 END {program}
                {date} 08:40:00 START {program}
                {date} 10:10:00 END {program}

                """, $"{date}T10:10:00Z");
            if (day <= 3) yield return ($"programs/O{2000 + day % 3}.nc", Program(program, "G54"), $"{date}T05:30:00Z");
        }
        yield return ("programs/O2001-new.nc", Program("O2001", "G55"), "2026-03-04T05:30:00Z");
        yield return ("programs/O9001.nc", "%\nO9001 (SUB)\nG1 X1. Y1. F100\nM99\n%\n", "2026-03-05T05:30:00Z");
        yield return ("load/waiting.nc", Dump(-400 - 40, -214, -300), "2026-03-03T20:00:00Z");
        yield return ("sheets/O2002.json", """
            { "Program": "O2002", "Units": "mm", "Datums": [ { "Register": "G54", "Axes": "XYZ", "At": "back-left-top",
              "Expect": { "X": [-405, -395] } } ] }
            """, "2026-03-02T05:00:00Z");
        yield return ("offsets/broken.nc", "%\nG10 L2 P1 X--5\n", "2026-03-03T12:00:00Z");
    }

    private static string Program(string name, string register) =>
        $"%\n{name} (PART {name})\nG21\nT3 M6\n{register} G0 X0 Y0\nG43 H3 Z5.\nG1 Z-2. F100\nX50.\nM98 P9001\nM30\n%\n";

    private sealed class StoppedException : Exception;
}
