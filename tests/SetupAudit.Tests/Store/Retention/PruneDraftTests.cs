using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Retention;

/// <summary>What goes and what stays, weighed page by page, against the same sum made in memory.</summary>
public sealed class PruneDraftTests
{
    private const int Seed = 20260302;
    private const int Kept = 1100;

    [Fact]
    public async Task A_draft_of_many_pages_weighs_as_a_list_in_memory_does()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var bytes = Enumerable.Range(0, Kept).Select(index => Bytes(new string('x', index % 97) + index)).ToList();
        await store.TakeInAsync(new TakeInBatch
        {
            Arrivals = [.. bytes.Select((one, index) => Of("mill-3", one, index))],
        }, Token);
        var dice = new Random(Seed);
        // Some bytes several times, on several machines; some that the store does not keep; some that must stay.
        var arrivals = Enumerable.Range(0, 4000).Select(index =>
        {
            var chosen = dice.Next(Kept + 50);
            var own = chosen < Kept ? bytes[chosen] : Bytes($"gone before {chosen}");
            return (Of($"mill-{dice.Next(3)}", own, index).Arrival, MayGo: dice.Next(40) > 0);
        }).ToList();
        var needed = bytes.Take(600).Select(one => Hash(one)).Where(_ => dice.Next(5) == 0).ToList();

        await using var draft = await PruneDraft.BeginAsync(Token);
        foreach (var page in arrivals.Chunk(1000)) await draft.AddAsync(page, Token);
        await draft.StayAsync(needed.ToAsyncEnumerable(), Token);
        await draft.WeighAsync(store.Reader.Prunings, Token);

        var stays = arrivals.Where(one => !one.MayGo).Select(one => one.Arrival.Sha256).Concat(needed).ToHashSet();
        var sizes = bytes.ToDictionary(one => Hash(one), one => (long)one.Length);
        var going = arrivals.Where(one => !stays.Contains(one.Arrival.Sha256) && sizes.ContainsKey(one.Arrival.Sha256)).ToList();
        var gone = going.Select(one => one.Arrival.Sha256).Distinct().Order(StringComparer.Ordinal).ToList();
        Assert.True(gone.Count > 500, $"{gone.Count} are not several pages");
        Assert.Equal(gone, await draft.GoneAsync(Token));
        Assert.Equal(gone.Sum(sha256 => sizes[sha256]), await draft.SizeBytesAsync(Token));
        Assert.Equal(
            going.GroupBy(one => one.Arrival.Machine).OrderBy(own => own.Key, StringComparer.Ordinal).Select(own => new PruneWeight(
                own.Key, own.Count(), own.Select(one => one.Arrival.Sha256).Distinct().Sum(sha256 => sizes[sha256]),
                own.Max(one => one.Arrival.MomentUtc))),
            await draft.WeightsAsync(Token));
    }

    [Fact]
    public void A_list_has_each_value_once_in_order_and_knows_which_it_has()
    {
        var some = Enumerable.Range(0, 3000).Select(index => Hash(Bytes($"{index}"))).ToList();
        var list = Sha256Set.Of([.. some, .. some]);

        Assert.Equal(some.Order(StringComparer.Ordinal), list);
        Assert.Equal(3000, list.Count);
        Assert.All(some, sha256 => Assert.True(list.Contains(sha256)));
        Assert.False(list.Contains(Hash(Bytes("another"))));
        Assert.False(Sha256Set.Of([]).Contains(some[0]));
    }

    private static TakenArrival Of(string machine, byte[] bytes, int index)
    {
        var taken = Dump("", index, $"offsets/{index}.nc");
        return taken with
        {
            Arrival = taken.Arrival with { Machine = machine, Sha256 = Hash(bytes), SizeBytes = bytes.Length },
            Bytes = bytes,
        };
    }
}
