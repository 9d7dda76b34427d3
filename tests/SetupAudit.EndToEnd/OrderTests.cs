using System.Diagnostics;
using SetupAudit.Demo;
using SetupAudit.Support;

namespace SetupAudit;

/// <summary>
/// Contract promise 2: any order of arrival, any number of crashes and restarts, and a rebuild end in the same derived
/// rows,
/// ids included. The made-up shop's files come in random groups, each taken in by a process of its own.
/// </summary>
public sealed class OrderTests
{
    private static readonly string[] Kinds = ["setups", "changes", "findings", "measurements", "cycles", "programs"];

    private static readonly IReadOnlyList<DemoFile> Files = DemoShop.Files();

    private static readonly Lazy<IReadOnlyList<string>> Straight = new(() =>
    {
        using var shop = Empty();
        Put(shop, Files);
        shop.Once(exits: 1);
        return Derived(shop);
    });

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Any_order_of_arrival_ends_in_the_same_rows(int seed)
    {
        using var shop = Empty();
        var random = new Random(seed);
        var shuffled = Files.OrderBy(_ => random.Next()).ToList();
        for (var taken = 0; taken < shuffled.Count;)
        {
            var count = Math.Min(shuffled.Count - taken, random.Next(1, shuffled.Count / 3));
            Put(shop, shuffled.Skip(taken).Take(count));
            shop.Run("once");
            taken += count;
        }

        Same(Derived(shop), seed);
    }

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    public void Kills_at_any_moment_and_restarts_end_in_the_same_rows(int seed)
    {
        using var shop = Empty();
        Put(shop, Files);
        var random = new Random(seed);
        for (var kill = 0; kill < 6; kill++)
        {
            using var running = shop.Start("once");
            var wait = Stopwatch.StartNew();
            var moment = random.Next(60, 1500);
            while (wait.ElapsedMilliseconds < moment && !running.HasEnded) Thread.Yield();
            running.Kill();
        }
        shop.Run("once");

        Same(Derived(shop), seed);
    }

    [Fact]
    public void Taking_in_again_what_was_taken_in_changes_nothing()
    {
        using var shop = Empty();
        Put(shop, Files);
        shop.Once(exits: 1);
        shop.Run("once");

        Same(Derived(shop), seed: 0);
    }

    [Fact]
    public void A_rebuild_says_that_nothing_differs()
    {
        using var shop = Empty();
        Put(shop, Files);
        shop.Once(exits: 1);

        shop.Run("rebuild").Exits(0);

        Same(Derived(shop), seed: 0);
    }

    private static Workshop Empty() =>
        Workshop.With(Files.Single(file => file.Name == DemoShop.ConfigurationFile).Text);

    private static void Put(Workshop shop, IEnumerable<DemoFile> files)
    {
        foreach (var file in files.Where(file => file.Name != DemoShop.ConfigurationFile))
            shop.Write(file.Name, file.ModifiedUtc.ToString("O"), file.Text);
    }

    private static IReadOnlyList<string> Derived(Workshop shop) =>
        [.. Kinds.SelectMany(kind => shop.List(kind).Select(row => $"{kind}: {row.GetRawText()}"))];

    private static void Same(IReadOnlyList<string> rows, int seed)
    {
        var missing = Straight.Value.Except(rows).Take(3).ToList();
        var extra = rows.Except(Straight.Value).Take(3).ToList();
        Assert.True(missing.Count == 0 && extra.Count == 0 && rows.Count == Straight.Value.Count,
            $"seed {seed}: {rows.Count} rows for {Straight.Value.Count}\nmissing:\n{string.Join('\n', missing)}\nextra:\n{string.Join('\n', extra)}");
    }
}
