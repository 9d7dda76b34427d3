using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class TakeInTests
{
    [Fact]
    public async Task What_was_taken_in_reads_back_after_the_store_was_closed_and_opened()
    {
        using var temp = new TempStore();
        var first = Dump("G10 L2 P1 X1.\n");
        var second = Dump("G10 L2 P1 X2.\n", 1.2345678);
        await using (var store = await temp.OpenAsync())
            Assert.Equal(2, (await store.TakeInAsync(Batch(first, second), Token)).Count);

        await using var again = await temp.OpenAsync();
        var arrivals = await AllAsync(again.Reader.ArrivalsAsync("mill-3", 0, Token));
        Assert.Equal([first.Arrival, second.Arrival], arrivals.Select(stored => stored.Arrival));
        Assert.Equal(second.Bytes.ToArray(), await again.Reader.ReadEvidenceAsync(second.Arrival.Sha256, Token));
        Assert.Equal(second.Arrival.Sha256, Assert.Single(await again.Reader.PositionsAsync("mill-3", "offsets", Token)).State);
    }

    [Fact]
    public async Task What_is_taken_in_is_unread_until_what_was_read_of_it_is_kept()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("a"), Dump("b", 1)), Token);
        await store.TakeInAsync(Batch(Dump("a")), Token);
        var batch = await ReadAllAsync(store);
        Assert.Equal([Monday, Monday.AddSeconds(1)], batch.Arrivals.Select(stored => stored.Arrival.MomentUtc));

        await store.PutReadAsync(batch with { Arrivals = [batch.Arrivals[0]] }, Token);
        Assert.Equal(batch.Arrivals[1], Assert.Single(await store.Reader.UnreadAsync("mill-3", 9, Token)));
        Assert.Equal(batch.Sightings, await AllAsync(store.Reader.SightingsAsync("mill-3", null, Token)));
    }

    [Fact]
    public async Task What_must_be_folded_again_is_marked_from_the_earliest_place_until_it_is_done()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var early = SightingPosition.Before(Monday);
        var late = SightingPosition.Before(Monday.AddHours(1));
        await store.PutReadAsync(Marked("mill-3", new DirtyMark(late, false)), Token);
        await store.PutReadAsync(Marked("mill-3", new DirtyMark(early, true)), Token);
        await store.PutReadAsync(Marked("mill-3", new DirtyMark(late, false)), Token);

        Assert.Equal(new DirtyMark(early, true), await store.Reader.DirtyAsync("mill-3", Token));
        Assert.Null(await store.Reader.DirtyAsync("mill-4", Token));
        await store.ClearDirtyAsync("mill-3", Token);
        Assert.Null(await store.Reader.DirtyAsync("mill-3", Token));
    }

    [Fact]
    public async Task What_was_read_of_programs_comes_back_with_their_arrivals()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch([.. Enumerable.Range(0, 150).Select(number => Dump($"O{number}", number))]), Token);
        var unread = await store.Reader.UnreadAsync("mill-3", 1000, Token);
        var shelf = unread.Select(stored => new ShelfItem(stored, stored.Seq % 2 == 0 ? null : Bytes($"read {stored.Seq}")))
            .ToList();
        await store.PutReadAsync(new ReadBatch { Machine = "mill-3", Arrivals = unread, Shelf = shelf }, Token);

        var back = await AllAsync(store.Reader.ShelfAsync("mill-3", Token));
        Assert.Equal(unread, back.Select(item => item.Arrival));
        Assert.Equal(shelf.Select(item => item.Body?.ToArray()), back.Select(item => item.Body?.ToArray()));
    }

    private static ReadBatch Marked(string machine, DirtyMark mark) => new()
    {
        Machine = machine,
        Arrivals = [],
        Dirty = new Dictionary<string, DirtyMark> { [machine] = mark },
    };
}
