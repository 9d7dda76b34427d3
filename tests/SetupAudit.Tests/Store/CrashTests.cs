using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class CrashTests
{
    // Steps of a change of the key are KeyRotationTests's, those of dropping evidence DroppingTests's.
    public static TheoryData<string> Steps =>
    [
        .. Enum.GetNames<StoreStep>().Where(name => !name.StartsWith("Key", StringComparison.Ordinal)
            && !name.StartsWith("Prune", StringComparison.Ordinal)),
    ];

    [Theory]
    [MemberData(nameof(Steps))]
    public async Task A_process_killed_at_a_step_leaves_all_of_a_batch_or_nothing(string stepName)
    {
        var step = Enum.Parse<StoreStep>(stepName);
        using var temp = new TempStore();
        using var image = await KilledAtAsync(temp, step);

        await using (var store = await image.OpenAsync())
        {
            Assert.Null(store.Damage);
            var there = await AllAsync(store.Reader.ArrivalsAsync(null, 0, Token));
            Assert.Equal(step == StoreStep.Committed ? 4 : 2, there.Count);
            Assert.Equal(there.Count, (await store.Reader.PositionsAsync("mill-3", "offsets", Token)).Count);
            foreach (var stored in there)
                Assert.NotNull(await store.Reader.ReadEvidenceAsync(stored.Arrival.Sha256, Token));

            // The source is read again, as it is after every start.
            await store.TakeInAsync(Second, Token);
        }
        using var reader = await image.OpenReaderAsync();
        Assert.Equal(4, (await AllAsync(reader.ArrivalsAsync(null, 0, Token))).Count);
        Assert.Equal(4L, image.Ask("SELECT COUNT(*) FROM blob"));
        Assert.Equal("ok", image.Ask("PRAGMA integrity_check"));
    }

    [Fact]
    public async Task Bytes_that_were_flushed_but_not_committed_are_used_and_not_written_again()
    {
        using var temp = new TempStore();
        using var image = await KilledAtAsync(temp, StoreStep.RowsWritten);
        var length = new FileInfo(image.Segment(1)).Length;

        await using var store = await image.OpenAsync();
        await store.TakeInAsync(Second, Token);

        Assert.Equal(length, new FileInfo(image.Segment(1)).Length);
        Assert.False(File.Exists(image.Segment(2)));
    }

    [Fact]
    public async Task Wherever_the_last_write_was_torn_nothing_committed_is_lost_and_the_rest_comes_again()
    {
        using var temp = new TempStore();
        long committed = 0;
        using var whole = await KilledAtAsync(temp, StoreStep.EvidenceFlushed, length => committed = length);
        var length = new FileInfo(whole.Segment(1)).Length;
        Assert.InRange(committed, 1, length - 1);

        for (var cut = committed; cut < length; cut += 7)
        {
            using var image = whole.Image();
            await using (var segment = File.Open(image.Segment(1), FileMode.Open)) segment.SetLength(cut);
            await RecoversAsync(image);
        }
    }

    [Fact]
    public async Task A_tail_of_zeros_as_a_power_cut_leaves_it_is_passed_over()
    {
        using var temp = new TempStore();
        long committed = 0;
        using var image = await KilledAtAsync(temp, StoreStep.EvidenceFlushed, length => committed = length);
        await using (var segment = File.Open(image.Segment(1), FileMode.Open))
        {
            var length = segment.Length;
            segment.SetLength(committed + 30);
            segment.SetLength(length);
        }
        await RecoversAsync(image);
    }

    [Fact]
    public async Task After_a_failed_write_the_store_refuses_until_it_is_opened_again()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync())
        {
            store.OnStep = step =>
            {
                if (step == StoreStep.EvidenceFlushed) throw new IOException("no space left on the disk");
            };
            var fault = await Assert.ThrowsAsync<StoreException>(() => store.TakeInAsync(First, Token));
            Assert.Equal(StoreFaultKind.Temporary, fault.Kind);
            Assert.Contains("no space left", fault.Message, StringComparison.Ordinal);
            store.OnStep = null;
            await Assert.ThrowsAsync<StoreException>(() => store.TakeInAsync(First, Token));
        }

        await using var again = await temp.OpenAsync();
        Assert.Equal(2, (await again.TakeInAsync(First, Token)).Count);
    }

    private static TakeInBatch First { get; } = Batch(Dump("a", file: "a.nc"), Dump("b", file: "b.nc"));

    private static TakeInBatch Second { get; } = Batch(
        Dump(new string('c', 300), 10, "c.nc"), Dump("d", 11, "d.nc"));

    private static async Task RecoversAsync(TempStore image)
    {
        await using var store = await image.OpenAsync();
        Assert.Null(store.Damage);
        await store.TakeInAsync(Second, Token);
        var there = await AllAsync(store.Reader.ArrivalsAsync(null, 0, Token));
        Assert.Equal(4, there.Count);
        foreach (var stored in there)
            Assert.NotNull(await store.Reader.ReadEvidenceAsync(stored.Arrival.Sha256, Token));
    }

    // The files as they are in the middle of the second batch.
    private static async Task<TempStore> KilledAtAsync(TempStore temp, StoreStep at, Action<long>? committed = null)
    {
        TempStore? image = null;
        await using (var store = await temp.OpenAsync())
        {
            await store.TakeInAsync(First, Token);
            committed?.Invoke(new FileInfo(temp.Segment(1)).Length);
            store.OnStep = step =>
            {
                if (step == at) image = temp.Image();
            };
            await store.TakeInAsync(Second, Token);
        }
        return image ?? throw new InvalidOperationException("the step was never reached");
    }
}
