using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Keeping;

public sealed class StoreCopyTests
{
    [Fact]
    public async Task A_copy_made_while_the_store_is_written_holds_all_of_a_moment_and_not_the_key()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        var copy = share["copy"];
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("one"), Dump("two", 1)), Token);

        var report = await StoreCopy.MakeAsync(temp.Folder, copy, Token);
        await store.TakeInAsync(Batch(Dump("three", 2)), Token);

        Assert.Equal((1, temp.Ask("SELECT MAX(number) + 1 FROM entry WHERE number < " + report.Entries)),
            (report.Segments, (object)report.Entries));
        Assert.DoesNotContain(Directory.GetFiles(copy, "*", SearchOption.AllDirectories),
            path => path.EndsWith(".key", StringComparison.Ordinal) || path.EndsWith("-wal", StringComparison.Ordinal));
        using var reader = await StoreReader.OpenAsync(copy, Token);
        Assert.Equal(2, (await AllAsync(reader.ArrivalsAsync(null, 0, Token))).Count);
        await VerifiesAsync(copy);
        Assert.Equal(Bytes("two"), await reader.ReadEvidenceAsync(Hash(Bytes("two")), Token));
    }

    [Fact]
    public async Task A_copy_made_again_copies_only_what_is_new()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);

        Assert.Equal(0, (await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token)).Segments);
        await FillAsync(temp, "two");
        Assert.Equal(1, (await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token)).Segments);
    }

    [Fact]
    public async Task A_folder_with_the_copy_of_another_record_is_left_as_it_is()
    {
        using var temp = new TempStore();
        using var other = new TempStore();
        using var share = new TempShare();
        await FillAsync(temp, "one");
        await FillAsync(other, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);

        var fault = await Assert.ThrowsAsync<StoreException>(
            () => StoreCopy.MakeAsync(other.Folder, share["copy"], Token));
        Assert.Contains("holds a copy of another record", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_newest_copy_put_back_goes_on_with_the_same_record_and_says_so()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var back = new TempStore();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);
        PutKey(temp, back);

        await StoreRestore.GoOnAsync(share["copy"], back.Folder, Options(share), TimeProvider.System, Token);

        var bodies = Bodies(back);
        Assert.Equal(Bodies(temp)[0].Origin, bodies[^1].Origin);
        Assert.Contains(bodies, body => body.Said.Contains("\"did\":\"restored\"", StringComparison.Ordinal));
        await FillAsync(back, "two");
        await VerifiesAsync(back.Folder);
    }

    [Fact]
    public async Task A_copy_older_than_the_checkpoints_kept_elsewhere_is_not_gone_on_with_but_begun_anew_in_the_open()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var back = new TempStore();
        var options = Options(share);
        await FillAsync(temp, "one", options);
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);
        await FillAsync(temp, "two", options);
        PutKey(temp, back);

        var fault = await Assert.ThrowsAsync<StoreException>(
            () => StoreRestore.GoOnAsync(share["copy"], back.Folder, options, TimeProvider.System, Token));
        Assert.Contains("a second history is never signed", fault.Message, StringComparison.Ordinal);

        using var again = new TempStore();
        PutKey(temp, again);
        await StoreRestore.BeginAnewAsync(share["copy"], again.Folder, options, "R. Amundsen", "the disk of the service died",
            TimeProvider.System, Token);
        var bodies = Bodies(again);
        Assert.NotEqual(Bodies(temp)[0].Origin, bodies[0].Origin);
        var word = Assert.Single(bodies, body => body.Said.Contains("begun-anew", StringComparison.Ordinal));
        Assert.Contains($"\"former\":\"{Bodies(temp)[0].Origin}\"", word.Said, StringComparison.Ordinal);
        Assert.Contains("the disk of the service died", word.Said, StringComparison.Ordinal);
        // Every row is sealed by the new record too, and the former one stays to be read.
        await FillAsync(again, "three", options);
        await VerifiesAsync(again.Folder, options.OffBoxFolder);
        var aside = Directory.GetDirectories(Path.Combine(again.Folder, "former")).Single();
        Assert.Equal(["audit.db", AnchorFile.FileName],
            Directory.GetFiles(aside).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Nothing_is_put_back_over_a_store_or_without_the_key()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var back = new TempStore();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);

        var over = await Assert.ThrowsAsync<StoreException>(() => StoreRestore.GoOnAsync(
            share["copy"], temp.Folder, new RecordOptions(), TimeProvider.System, Token));
        Assert.Contains("holds a store already", over.Message, StringComparison.Ordinal);
        var keyless = await Assert.ThrowsAsync<StoreException>(() => StoreRestore.GoOnAsync(
            share["copy"], back.Folder, new RecordOptions(), TimeProvider.System, Token));
        Assert.Contains("is not part of a copy", keyless.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(back.Folder, "audit.db")));
    }

    private static RecordOptions Options(TempShare share)
    {
        Directory.CreateDirectory(share["elsewhere"]);
        return new RecordOptions { Shop = "Harrow Lane Works", OffBoxFolder = share["elsewhere"] };
    }

    private static async Task FillAsync(TempStore temp, string text, RecordOptions? options = null)
    {
        await using var store = await AuditStore.OpenAsync(
            temp.Folder, options ?? new RecordOptions(), TimeProvider.System, Token);
        await store.TakeInAsync(Batch(Dump(text, text.Length)), Token);
    }

    private static async Task VerifiesAsync(string folder, string? offBox = null)
    {
        var check = await StoreVerifier.RunAsync(new VerifyOptions { Folder = folder, OffBoxFolder = offBox }, Token);
        Assert.Empty(check.Faults);
    }

    private static void PutKey(TempStore from, TempStore to)
    {
        Directory.CreateDirectory(to.Folder);
        File.Copy(Path.Combine(from.Folder, "record.key"), Path.Combine(to.Folder, "record.key"));
    }

    private static List<RecordBody> Bodies(TempStore temp) =>
        [.. temp.Rows("SELECT body FROM entry ORDER BY number").Select(body => RecordBody.Read((byte[])body)!)];
}
