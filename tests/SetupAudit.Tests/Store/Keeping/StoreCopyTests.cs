using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Retention;
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
    public async Task A_copy_of_a_store_whose_evidence_was_dropped_verifies_and_holds_no_more_than_it()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);
        await using (var store = await temp.OpenAsync())
            await store.PruneAsync(Drops.Of([Hash(Bytes("one"))]), Token);
        await FillAsync(temp, "two");

        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);
        await VerifiesAsync(share["copy"]);
        await StoreCopy.LetGoAsync(share["copy"], Token);

        await VerifiesAsync(share["copy"]);
        Assert.Equal(Names(temp.Folder), Names(share["copy"]));
        using var reader = await StoreReader.OpenAsync(share["copy"], Token);
        Assert.Null(await reader.ReadEvidenceAsync(Hash(Bytes("one")), Token));
        Assert.NotNull(await reader.ReadEvidenceAsync(Hash(Bytes("two")), Token));

        // Put back it goes on, with its record or with a new one over the same rows.
        foreach (var isAnew in new[] { false, true })
        {
            using var back = new TempStore();
            PutKey(temp, back);
            await (isAnew
                ? StoreRestore.BeginAnewAsync(share["copy"], back.Folder, Options(share), "Ann Reed", "a test", TimeProvider.System, Token)
                : StoreRestore.GoOnAsync(share["copy"], back.Folder, Options(share), TimeProvider.System, Token));
            await FillAsync(back, "one", Options(share));
            await VerifiesAsync(back.Folder);
            using var again = await back.OpenReaderAsync();
            Assert.NotNull(await again.ReadEvidenceAsync(Hash(Bytes("two")), Token));
        }

        static IEnumerable<string?> Names(string folder) =>
            Directory.GetFiles(Path.Combine(folder, "evidence")).Select(Path.GetFileName).Order(StringComparer.Ordinal);
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
        Assert.Contains($"Put it back to {Path.Combine(back.Folder, "record.key")}", keyless.Message, StringComparison.Ordinal);
        Assert.Contains("--new-record with --by and --reason", keyless.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(back.Folder));
    }

    [Fact]
    public async Task A_store_that_was_not_closed_is_no_copy()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);
        share.Write("copy/audit.db-wal", "not empty");
        var fault = await Assert.ThrowsAsync<StoreException>(() => StoreRestore.BeginAnewAsync(
            share["copy"], share["back"], new RecordOptions(), "Ann Reed", "why not", TimeProvider.System, Token));
        Assert.Contains("holds a store that is open or was not closed", fault.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(share["back"]));
    }

    [Fact]
    public async Task With_the_key_lost_a_new_record_goes_on_with_a_new_key_and_the_former_one_verifies()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var back = new TempStore();
        await FillAsync(temp, "one");
        await StoreCopy.MakeAsync(temp.Folder, share["copy"], Token);

        await StoreRestore.BeginAnewAsync(
            share["copy"], back.Folder, new RecordOptions(), "Ann Reed", "the key is lost", TimeProvider.System, Token);
        await VerifiesAsync(back.Folder);
        await VerifiesAsync(Directory.GetDirectories(Path.Combine(back.Folder, "former")).Single(), evidence: false);
        Assert.NotEqual(Bodies(temp)[0].Said, Bodies(back)[0].Said);
    }

    [Fact]
    public async Task No_record_is_begun_where_checkpoints_elsewhere_know_of_an_earlier_one_of_the_shop()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var empty = new TempStore();
        var options = Options(share);
        await FillAsync(temp, "one", options);
        var known = Assert.Single(Directory.GetFiles(share["elsewhere"]));

        var fault = await Assert.ThrowsAsync<StoreException>(() => FillAsync(empty, "one", options));
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.StartsWith($"There is no record in {empty.Folder}, and {known} holds checkpoints of an earlier one", fault.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(empty.Folder, "record.key")));
        // Another shop may keep its own there, and a person may move the file away.
        using var other = new TempStore();
        await FillAsync(other, "one", options with { Shop = "Harrow Lane Works Two" });
        Directory.CreateDirectory(share["kept"]);
        File.Move(known, Path.Combine(share["kept"], Path.GetFileName(known)));
        await FillAsync(empty, "one", options);
        await VerifiesAsync(empty.Folder, options.OffBoxFolder);
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

    private static async Task VerifiesAsync(string folder, string? offBox = null, bool evidence = true)
    {
        var check = await StoreVerifier.RunAsync(new VerifyOptions { Folder = folder, OffBoxFolder = offBox, WithEvidence = evidence }, Token);
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
