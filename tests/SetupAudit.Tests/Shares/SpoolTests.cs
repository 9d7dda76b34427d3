using SetupAudit.Shop;
using SetupAudit.Support;

namespace SetupAudit.Shares;

/// <summary>The store, which every share waits for, never waits for a share.</summary>
public sealed class SpoolTests : IDisposable
{
    private readonly TempShare _disk = new();
    private readonly string _content = string.Concat(Enumerable.Range(0, 1000).Select(i => $"N{i} G1 X{i}.\n"));

    [Theory]
    [InlineData(SourceKind.Program)]
    [InlineData(SourceKind.PrintOut)]
    public void A_share_that_dies_while_a_large_file_is_kept_harms_nothing(SourceKind read)
    {
        var bench = Bench(read, _disk.Folder);
        bench.BeforeTakeIn = _ => bench.Share.Before = (_, _) => throw MemoryShare.Fault(MemoryShare.Estale);
        bench.Scan();

        Assert.Null(Assert.Single(bench.Taken).Bytes);
        Assert.Equal([_content], bench.Texts);
        Assert.Empty(Directory.EnumerateFiles(_disk.Folder));
        Assert.Throws<FileChangedException>(() => bench.Taken[0].OpenStream());
    }

    [Fact]
    public void A_store_that_fails_leaves_nothing_behind()
    {
        var bench = Bench(SourceKind.Program, _disk.Folder);
        bench.BeforeTakeIn = _ => throw new InvalidOperationException("disk full");
        Assert.Throws<InvalidOperationException>(() => bench.Scan());
        bench.BeforeTakeIn = _ => { };
        bench.ScanFor(6);

        Assert.Equal([_content], bench.Texts);
        Assert.Empty(Directory.EnumerateFiles(_disk.Folder));
    }

    [Fact]
    public void Without_a_place_for_it_the_share_is_read_once_more()
    {
        var bench = Bench(SourceKind.Program, _disk["none"]);
        bench.Scan();

        Assert.Equal([_content], bench.Texts);
        Assert.Equal(2, bench.Share.Opened);
    }

    [Fact]
    public async Task It_can_be_read_in_steps_as_a_store_does()
    {
        var bench = Bench(SourceKind.Program, _disk.Folder);
        Task<string>? reading = null;
        bench.BeforeTakeIn = batch =>
        {
            // The first batch may only note where the folder is mounted.
            if (batch.Found.Count > 0) reading ??= ReadAsync(batch.Found[0]);
        };
        bench.Scan();

        Assert.NotNull(reading);
        Assert.Equal(_content, await reading);
    }

    public void Dispose() => _disk.Dispose();

    private static async Task<string> ReadAsync(FoundFile found)
    {
        await using var stream = found.OpenStream();
        using var reader = new StreamReader(stream);
        return await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
    }

    private ShareBench Bench(SourceKind read, string folder)
    {
        var limits = new ScanLimits { HeldBytes = 1000, SpoolFolder = folder };
        var bench = new ShareBench(read, "*.nc", limits);
        bench.Share.Write("O2041.nc", _content);
        bench.Share.MostPerRead = 777;
        bench.Clock.Advance(60);
        return bench;
    }
}
