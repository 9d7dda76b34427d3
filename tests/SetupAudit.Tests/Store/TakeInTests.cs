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
        var sightings = await AllAsync(again.Reader.SightingsAsync("mill-3", null, Token));
        Assert.Equal([.. first.Sightings, .. second.Sightings], sightings);
    }
}
