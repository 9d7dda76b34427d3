using ZstdSharp;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class EvidenceTests
{
    [Fact]
    public async Task The_same_bytes_at_another_time_are_another_arrival_and_are_kept_once()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("same"), Dump("same", 60)), Token);
        var length = new FileInfo(temp.Segment(1)).Length;
        await store.TakeInAsync(Batch(Dump("same", 120)), Token);

        Assert.Equal(3, (await AllAsync(store.Reader.ArrivalsAsync(null, 0, Token))).Count);
        Assert.Equal(length, new FileInfo(temp.Segment(1)).Length);
        Assert.Equal(1L, temp.Ask("SELECT COUNT(*) FROM blob"));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(128 * 1024 - 1)]
    [InlineData(128 * 1024)]
    [InlineData(128 * 1024 + 1)]
    [InlineData(9_000_001)]
    public async Task Bytes_of_any_size_read_back_from_memory_and_from_a_stream(int size)
    {
        using var temp = new TempStore();
        var bytes = Noise(size);
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Large(bytes), Dump("small")), Token);

        Assert.Equal(bytes, await store.Reader.ReadEvidenceAsync(Hash(bytes), Token));
        await using var stream = await store.Reader.OpenEvidenceAsync(Hash(bytes), Token);
        Assert.NotNull(stream);
        using var copy = new MemoryStream();
        await stream.CopyToAsync(copy, Token);
        Assert.Equal(bytes, copy.ToArray());
        Assert.Equal(Bytes("small"), await store.Reader.ReadEvidenceAsync(Hash(Bytes("small")), Token));
    }

    [Fact]
    public async Task Small_and_nearly_large_bytes_of_one_batch_all_read_back()
    {
        using var temp = new TempStore();
        byte[][] all = [Noise(100), Noise(1_000_000), Noise(3_000_000), Noise(7_900_000), Noise(200), Noise(2_100_000)];
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch([.. all.Select((bytes, at) => new TakenArrival
        {
            Arrival = Arrival(bytes, at),
            Bytes = bytes,
        })]), Token);

        foreach (var bytes in all) Assert.Equal(bytes, await store.Reader.ReadEvidenceAsync(Hash(bytes), Token));
    }

    [Fact]
    public async Task A_segment_unpacks_as_one_stream_with_no_knowledge_of_this_program()
    {
        using var temp = new TempStore();
        var large = Noise(300_000);
        await using (var store = await temp.OpenAsync())
            await store.TakeInAsync(Batch(Dump("first;"), Large(large), Dump("last", 1)), Token);

        await using var segment = File.OpenRead(temp.Segment(1));
        await using var unpacked = new DecompressionStream(segment);
        using var all = new MemoryStream();
        await unpacked.CopyToAsync(all, Token);
        Assert.Equal([.. Bytes("first;"), .. large, .. Bytes("last")], all.ToArray());
    }

    [Fact]
    public async Task Bytes_that_are_not_known_are_null()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();

        Assert.Null(await store.Reader.ReadEvidenceAsync(Hash(Bytes("never seen")), Token));
        Assert.Null(await store.Reader.OpenEvidenceAsync(Hash(Bytes("never seen")), Token));
    }

    [Fact]
    public async Task A_refused_arrival_is_kept_without_bytes()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var arrival = Arrival(Bytes("")) with { Sha256 = "", Refused = "no permission to read it" };
        await store.TakeInAsync(Batch(new TakenArrival { Arrival = arrival }), Token);

        Assert.Equal(arrival, Assert.Single(await AllAsync(store.Reader.ArrivalsAsync(null, 0, Token))).Arrival);
        Assert.Equal(0L, temp.Ask("SELECT COUNT(*) FROM blob"));
    }

    [Fact]
    public async Task Bytes_with_another_hash_than_the_arrival_says_are_not_taken_in()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var wrong = Dump("right") with { Bytes = Bytes("wrong") };

        await Assert.ThrowsAsync<ArgumentException>(() => store.TakeInAsync(Batch(Dump("good", 1), wrong), Token));
        Assert.Empty(await AllAsync(store.Reader.ArrivalsAsync(null, 0, Token)));

        // The store goes on, and what had reached the segment before the fault is used and not written again.
        await store.TakeInAsync(Batch(Dump("good", 1), Dump("right")), Token);
        Assert.Equal(Bytes("good"), await store.Reader.ReadEvidenceAsync(Hash(Bytes("good")), Token));
        Assert.Equal(Bytes("right"), await store.Reader.ReadEvidenceAsync(Hash(Bytes("right")), Token));
    }

    [Fact]
    public async Task A_large_file_that_changed_under_the_reader_is_not_taken_in_and_harms_nothing()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var bytes = Noise(9_000_000);
        var changed = Large(bytes) with { Open = () => new MemoryStream(Noise(9_000_000, seed: 2)) };

        await Assert.ThrowsAsync<ArgumentException>(() => store.TakeInAsync(Batch(changed), Token));
        await store.TakeInAsync(Batch(Dump("after")), Token);
        await store.TakeInAsync(Batch(Large(bytes)), Token);

        Assert.Equal(Bytes("after"), await store.Reader.ReadEvidenceAsync(Hash(Bytes("after")), Token));
        Assert.Equal(bytes, await store.Reader.ReadEvidenceAsync(Hash(bytes), Token));
    }

    [Theory]
    [InlineData(40)]
    [InlineData(9_000_000)]
    public async Task One_flipped_bit_is_found_when_the_bytes_are_read(int size)
    {
        using var temp = new TempStore();
        var bytes = Noise(size);
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Large(bytes)), Token);
        await using (var segment = File.Open(temp.Segment(1), FileMode.Open, FileAccess.ReadWrite))
        {
            segment.Position = segment.Length - 5;
            var one = segment.ReadByte();
            segment.Position--;
            segment.WriteByte((byte)(one ^ 1));
        }

        using var reader = await temp.OpenReaderAsync();
        var fault = await Assert.ThrowsAsync<StoreException>(() => reader.ReadEvidenceAsync(Hash(bytes), Token));
        Assert.Equal(StoreFaultKind.Permanent, fault.Kind);
        Assert.Contains(Hash(bytes), fault.Message, StringComparison.Ordinal);
        await Assert.ThrowsAsync<StoreException>(async () =>
        {
            await using var stream = await reader.OpenEvidenceAsync(Hash(bytes), Token);
            await (stream ?? Stream.Null).CopyToAsync(Stream.Null, Token);
        });
    }

    [Fact]
    public async Task A_segment_that_is_gone_is_said_at_opening_and_the_store_goes_on()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("lost")), Token);
        File.Delete(temp.Segment(1));

        await using var again = await temp.OpenAsync();
        Assert.Contains("segment-000001.seg is missing", again.Damage, StringComparison.Ordinal);
        await again.TakeInAsync(Batch(Dump("new", 1)), Token);
        Assert.Equal(Bytes("new"), await again.Reader.ReadEvidenceAsync(Hash(Bytes("new")), Token));
        Assert.True(File.Exists(temp.Segment(2)));
        var fault = await Assert.ThrowsAsync<StoreException>(
            () => again.Reader.ReadEvidenceAsync(Hash(Bytes("lost")), Token));
        Assert.Contains("is missing", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_segment_that_was_cut_short_is_said_at_opening()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("cut")), Token);
        await using (var segment = File.Open(temp.Segment(1), FileMode.Open)) segment.SetLength(segment.Length - 1);

        await using var again = await temp.OpenAsync();
        Assert.Contains("ends at byte", again.Damage, StringComparison.Ordinal);
    }

    private static TakenArrival Large(byte[] bytes) => new()
    {
        Arrival = Arrival(bytes, 1000, "programs/big.nc"),
        Open = () => new MemoryStream(bytes),
    };

    // Bytes that do not compress, the same on every run.
    private static byte[] Noise(int size, int seed = 1)
    {
        var bytes = new byte[size];
        new Random(seed).NextBytes(bytes);
        return bytes;
    }
}
