using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class SightingTests
{
    [Fact]
    public async Task The_time_line_comes_by_moment_source_path_hash_and_line_and_never_by_arrival()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        SightingPosition[] ordered =
        [
            At(-1, 9, "z", "ff", 9), At(0, -1, "z", "ff", 9), At(0, 0, "Z", "ff", 9), At(0, 0, "a", "ff", 9),
            At(0, 0, "ä", "aa", 9), At(0, 0, "ä", "bb", 2), At(0, 0, "ä", "bb", 10), At(0, 1, "a", "aa", 0),
            At(0.0000001, 0, "a", "aa", 0), At(10, 0, "a", "aa", 0),
        ];
        foreach (var position in ordered.Reverse()) await PutAsync(store, Of(position));

        var read = await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token));
        Assert.Equal(ordered, read.Select(sighting => sighting.Position));
        Assert.Equal(ordered, ordered.OrderBy(position => position));
        for (var index = 0; index < ordered.Length; index++)
            Assert.Equal(ordered[(index + 1)..],
                (await AllAsync(store.Reader.SightingsAsync("mill-3", ordered[index], Token))).Select(item => item.Position));
    }

    [Fact]
    public async Task A_long_time_line_is_read_whole_page_by_page()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var many = Enumerable.Range(0, 2500).Select(line => Of(At(0, 0, "print.log", "aa", line)) with { Body = $"line {line}" }).ToList();
        await PutAsync(store, [.. many]);
        await PutAsync(store, Of(At(0, 0, "a", "aa", 0)) with { Machine = "mill-4" });

        Assert.Equal(many, await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token)));
    }

    [Fact]
    public async Task Taking_in_the_same_again_adds_nothing()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        Assert.Single(await store.TakeInAsync(Batch(Dump("a")), Token));
        Assert.Empty(await store.TakeInAsync(Batch(Dump("a")), Token));
        Assert.Single(await store.TakeInAsync(Batch(Dump("a"), Dump("b", 1), Dump("b", 1)), Token));

        Assert.Equal(2, (await AllAsync(store.Reader.ArrivalsAsync("mill-3", 0, Token))).Count);
        Assert.Equal(["mill-3"], await store.Reader.MachinesAsync(Token));
    }

    [Fact]
    public async Task Reading_again_forgets_what_was_read_and_folded_and_the_record_stays()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("a")), Token);
        await store.PutReadAsync(await ReadAllAsync(store), Token);
        var line = await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token));
        await store.KeepStateAsync("mill-3", line[0].Position, Bytes("state"), Token);
        await store.ReadAgainAsync("mill-3", Token);

        Assert.Empty(await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token)));
        Assert.Single(await store.Reader.PositionsAsync("mill-3", "offsets", Token));
        Assert.Null(await store.Reader.LatestKeptAsync("mill-3", null, Token));
        Assert.Single(await AllAsync(store.Reader.ArrivalsAsync("mill-3", 0, Token)));
        Assert.Equal(DateTimeOffset.MinValue, (await store.Reader.DirtyAsync("mill-3", Token))?.From.AtUtc);
        await store.PutReadAsync(await ReadAllAsync(store), Token);
        Assert.Equal(line, await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token)));
    }

    [Fact]
    public async Task A_position_without_a_state_is_forgotten()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(new TakeInBatch
        {
            Arrivals = [],
            Positions = [new("mill-3", "offsets", "b", "2"), new("mill-3", "offsets", "a", "1"), new("mill-3", "prints", "a", "3")],
        }, Token);
        await store.TakeInAsync(new TakeInBatch
        {
            Arrivals = [],
            Positions = [new("mill-3", "offsets", "a", "9"), new("mill-3", "offsets", "b", null)],
        }, Token);

        Assert.Equal([new SourcePosition("mill-3", "offsets", "a", "9")], await store.Reader.PositionsAsync("mill-3", "offsets", Token));
        Assert.Single(await store.Reader.PositionsAsync("mill-3", "prints", Token));
    }

    [Fact]
    public async Task Kept_states_are_found_at_or_before_a_position_and_forgotten_behind_it()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        SightingPosition[] at = [At(0, 0, "a", "aa", 0), At(10, 0, "a", "aa", 0), At(10, 0, "b", "aa", 0), At(20, 0, "a", "aa", 0)];
        foreach (var position in at) await store.KeepStateAsync("mill-3", position, Bytes(position.ToString()), Token);
        await store.KeepStateAsync("mill-4", At(99, 0, "a", "aa", 0), Bytes("other"), Token);

        Assert.Equal(at, await store.Reader.KeptPositionsAsync("mill-3", Token));
        Assert.Equal(at[3], (await store.Reader.LatestKeptAsync("mill-3", null, Token))?.Position);
        Assert.Equal(at[2], (await store.Reader.LatestKeptAsync("mill-3", at[2], Token))?.Position);
        var found = await store.Reader.LatestKeptAsync("mill-3", At(10, 0, "aa", "aa", 0), Token);
        Assert.Equal(at[1], found?.Position);
        Assert.Equal(Bytes(at[1].ToString()), found?.State);
        Assert.Null(await store.Reader.LatestKeptAsync("mill-3", At(-1, 0, "a", "aa", 0), Token));

        await store.ForgetStatesAfterAsync("mill-3", at[1], Token);
        Assert.Equal(at[..2], await store.Reader.KeptPositionsAsync("mill-3", Token));
        await store.ForgetStatesAsync("mill-3", [at[0]], Token);
        Assert.Equal([at[1]], await store.Reader.KeptPositionsAsync("mill-3", Token));
        Assert.Single(await store.Reader.KeptPositionsAsync("mill-4", Token));
    }

    private static Task PutAsync(AuditStore store, params StoredSighting[] sightings) =>
        store.PutReadAsync(new ReadBatch { Machine = sightings[0].Machine, Arrivals = [], Sightings = sightings }, Token);

    private static SightingPosition At(double seconds, int source, string file, string hash, int line) =>
        new(Monday + TimeSpan.FromTicks((long)(seconds * TimeSpan.TicksPerSecond)), source, file, hash, line);

    private static StoredSighting Of(SightingPosition position) => new()
    {
        Machine = "mill-3",
        Position = position,
        EarliestUtc = position.AtUtc.AddMinutes(-5),
        Arrival = "an arrival",
    };
}
