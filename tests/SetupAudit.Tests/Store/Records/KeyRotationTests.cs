using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Keeping;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Records;

public sealed class KeyRotationTests
{
    private static readonly KeyOrder Order = new("R. Amundsen", "the administrator left", "svc-audit");

    public static TheoryData<string> Steps =>
        [nameof(StoreStep.KeyMade), nameof(StoreStep.RowsWritten), nameof(StoreStep.Committed), nameof(StoreStep.KeyOverwritten), nameof(StoreStep.KeyReplaced)];

    [Fact]
    public async Task Both_keys_sign_the_checkpoint_over_the_change_and_the_new_one_alone_those_after_it()
    {
        using var store = await RecordedStore.MadeAsync();
        var old = store.Key;
        var former = await File.ReadAllTextAsync(store.KeyFile, Token);
        VerifierKey next;
        await using (var open = await store.OpenAsync()) next = await open.RotateKeyAsync(Order, Token);
        await store.GoOnAsync(from: 3);

        Assert.Equal(next, store.Key);
        Assert.NotEqual(old, next);
        var body = Assert.Single(Bodies(store), body => body.Kind == RecordKind.Key);
        Assert.Equal($$"""{"key":"{{next}}","former":"{{old}}","by":"R. Amundsen","reason":"the administrator left","account":"svc-audit"}""", body.Said);
        var over = store.Sizes.First(size => size > body.Number);
        var signed = (string)store.Ask($"SELECT signed FROM checkpoint WHERE size = {over}");
        Assert.Equal(2, signed.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Single(((string)store.Ask($"SELECT signed FROM checkpoint WHERE size = {store.Sizes[^1]}")).Split('\n', StringSplitOptions.RemoveEmptyEntries));
        // Those who wrote the old key down and those who write down the new one can check, off-box copies as well.
        foreach (var pinned in new[] { null, old, next })
            Assert.Empty((await store.CheckAsync(pinned: pinned)).Faults);
        Assert.DoesNotContain(Directory.GetFiles(store.Folder, "*", SearchOption.AllDirectories),
            path => Encoding.Latin1.GetString(File.ReadAllBytes(path)).Contains(former.Split('\n')[1], StringComparison.Ordinal));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(store.KeyFile));
    }

    [Theory, MemberData(nameof(Steps))]
    public async Task Killed_at_any_step_the_next_start_goes_on_with_the_key_that_is_in_force(string at)
    {
        using var temp = new TempStore();
        TempStore? image = null;
        await using (var store = await temp.OpenAsync())
        {
            await store.TakeInAsync(Batch(Dump("one")), Token);
            await store.AnchorAsync(Token);
            store.OnStep = step => image ??= step.ToString() == at ? temp.Image() : null;
            await store.RotateKeyAsync(Order, Token);
        }
        Assert.NotNull(image);
        using var killed = image;
        var isChanged = at is not (nameof(StoreStep.KeyMade) or nameof(StoreStep.RowsWritten));
        await using (var store = await killed.OpenAsync()) await store.TakeInAsync(Batch(Dump("two", 1)), Token);

        Assert.Equal(isChanged ? 1 : 0, Bodies(killed).Count(body => body.Kind == RecordKind.Key));
        // No second key is left. A reader that closes just now may still hold the database's own files beside it.
        Assert.Equal(["audit.db", "checkpoints.txt", "evidence", "record.key", "store.lock"],
            Directory.GetFileSystemEntries(killed.Folder).Select(path => Path.GetFileName(path))
                .Where(name => !name.StartsWith("audit.db-", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        var check = await StoreVerifier.RunAsync(new VerifyOptions { Folder = killed.Folder }, Token);
        Assert.Empty(check.Faults);
        // And it can be changed again.
        await using (var store = await killed.OpenAsync()) await store.RotateKeyAsync(Order, Token);
        await using (var store = await killed.OpenAsync()) await store.TakeInAsync(Batch(Dump("three", 2)), Token);
        Assert.Empty((await StoreVerifier.RunAsync(new VerifyOptions { Folder = killed.Folder }, Token)).Faults);
    }

    [Fact]
    public async Task A_write_that_fails_leaves_the_old_key_in_force()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("one")), Token);
        await using (var store = await temp.OpenAsync())
        {
            store.OnStep = step => { if (step == StoreStep.RowsWritten) throw new InvalidOperationException("stopped here"); };
            await Assert.ThrowsAsync<InvalidOperationException>(() => store.RotateKeyAsync(Order, Token));
            store.OnStep = null;
            await store.TakeInAsync(Batch(Dump("two", 1)), Token);
        }
        Assert.DoesNotContain(Bodies(temp), body => body.Kind == RecordKind.Key);
        await using (await temp.OpenAsync())
            Assert.False(File.Exists(Path.Combine(temp.Folder, "record.key.next")));
        Assert.Empty((await StoreVerifier.RunAsync(new VerifyOptions { Folder = temp.Folder }, Token)).Faults);
    }

    [Fact]
    public async Task What_a_crash_left_of_a_new_key_that_nothing_names_is_taken_away()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("one")), Token);
        var key = Path.Combine(temp.Folder, "record.key");
        await File.WriteAllTextAsync(key + ".next.new", "half a key", Token);
        RecordKey.Create(key + ".next", "a").Dispose();

        await using (await temp.OpenAsync())
            Assert.Equal([key], Directory.GetFiles(temp.Folder, "record.key*"));
    }

    [Fact]
    public async Task A_new_key_that_waits_is_not_taken_away_where_the_old_one_is_not_the_right_one()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("one")), Token);
        var key = Path.Combine(temp.Folder, "record.key");
        using (RecordKey.Create(key + ".next", "a"))
        using (RecordKey.Create(key + ".other", "a"))
            File.Move(key + ".other", key, overwrite: true);

        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenAsync);
        Assert.Contains("is not signed by the key in", fault.Message, StringComparison.Ordinal);
        Assert.True(File.Exists(key + ".next"));
    }

    [Fact]
    public async Task A_copy_from_before_the_change_verifies_and_is_gone_on_from_only_in_a_new_record()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        using var back = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("one")), Token);
        await StoreCopy.MakeAsync(temp.Folder, share["before"], Token);
        await using (var store = await temp.OpenAsync()) await store.RotateKeyAsync(Order, Token);
        await StoreCopy.MakeAsync(temp.Folder, share["after"], Token);
        Directory.CreateDirectory(back.Folder);
        File.Copy(Path.Combine(temp.Folder, "record.key"), Path.Combine(back.Folder, "record.key"));

        foreach (var copy in new[] { "before", "after" })
            Assert.Empty((await StoreVerifier.RunAsync(new VerifyOptions { Folder = share[copy] }, Token)).Faults);
        var fault = await Assert.ThrowsAsync<StoreException>(() => StoreRestore.GoOnAsync(
            share["before"], back.Folder, new RecordOptions(), TimeProvider.System, Token));
        Assert.Contains("a copy from before the key was changed", fault.Message, StringComparison.Ordinal);
        await StoreRestore.GoOnAsync(share["after"], back.Folder, new RecordOptions(), TimeProvider.System, Token);
        Assert.Empty((await StoreVerifier.RunAsync(new VerifyOptions { Folder = back.Folder }, Token)).Faults);
    }

    [Fact]
    public async Task A_key_that_is_a_link_is_not_changed()
    {
        if (OperatingSystem.IsWindows()) return;
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("one")), Token);
        var key = Path.Combine(temp.Folder, "record.key");
        File.Move(key, key + ".kept");
        File.CreateSymbolicLink(key, key + ".kept");
        await using var again = await temp.OpenAsync();
        var fault = await Assert.ThrowsAsync<StoreException>(() => again.RotateKeyAsync(Order, Token));
        Assert.Contains("is a link to another place", fault.Message, StringComparison.Ordinal);
    }

    private static List<RecordBody> Bodies(RecordedStore store) =>
        [.. store.Rows("SELECT body FROM entry ORDER BY number").Select(body => RecordBody.Read((byte[])body)!)];

    private static List<RecordBody> Bodies(TempStore temp) =>
        [.. temp.Rows("SELECT body FROM entry ORDER BY number").Select(body => RecordBody.Read((byte[])body)!)];
}
