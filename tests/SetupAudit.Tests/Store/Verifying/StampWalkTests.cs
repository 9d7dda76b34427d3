using SetupAudit.Records;
using SetupAudit.Store.Records;
using SetupAudit.Store.Stamps;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Verifying;

/// <summary>What verifying makes of time stamps, good ones and others.</summary>
public sealed class StampWalkTests
{
    [Fact]
    public async Task Stamps_that_hold_are_told_for_each_place_and_absent_ones_fail_nothing()
    {
        await using var authority = new HouseAuthority();
        using var store = await StampedAsync(authority);
        var check = await CheckAsync(store, authority.RootFile);
        Assert.True(check.Holds, string.Join('\n', check.Faults));
        Assert.Equal([false, true], check.Stamps.Select(stamp => stamp.IsOffBox));
        Assert.All(check.Stamps, stamp => Assert.Equal(
            (1, store.Sizes[^1], "CN=Harrow Lane time (made up), C=GB", true), (stamp.Count, stamp.Size, stamp.By, stamp.IsTrusted)));
        Assert.All((await CheckAsync(store, null)).Stamps, stamp => Assert.False(stamp.IsTrusted));

        Directory.Delete(Stamps(store), recursive: true);
        check = await CheckAsync(store, authority.RootFile);
        Assert.True(check.Holds);
        Assert.True(Assert.Single(check.Stamps).IsOffBox);
    }

    [Fact]
    public async Task A_stamp_by_whom_nobody_trusts_fails()
    {
        await using var authority = new HouseAuthority();
        await using var other = new HouseAuthority();
        using var store = await StampedAsync(authority);
        var check = await CheckAsync(store, other.RootFile);
        Assert.Equal(2, check.FaultCount);
        Assert.All(check.Faults, fault => Assert.Equal("stamp-fails", fault.Code));
        Assert.EndsWith("does not hold: none of the trusted certificates vouches for the authority's", check.Faults[0].Text, StringComparison.Ordinal);
        check = await CheckAsync(store, store["nowhere.pem"]);
        Assert.Equal($"nothing vouches for whoever made the time stamps: {store["nowhere.pem"]} is not there", Assert.Single(check.Faults).Text);
    }

    [Fact]
    public async Task An_altered_stamp_or_one_over_another_checkpoint_fails()
    {
        await using var authority = new HouseAuthority();
        using var store = await StampedAsync(authority);
        var size = store.Sizes[^1];
        var (answer, note) = (Path.Combine(Stamps(store), $"{size}.tsr"), Path.Combine(Stamps(store), $"{size}.txt"));
        var good = File.ReadAllBytes(answer);

        File.WriteAllBytes(answer, [.. good[..^5], (byte)(good[^5] ^ 1), .. good[^4..]]);
        Assert.Equal(("stamp-fails", $"the time stamp {answer} does not hold: the signature of the stamp does not hold"), await OnlyAsync(store, authority));
        File.WriteAllBytes(answer, authority.StampOver("something else"u8.ToArray()));
        Assert.Equal(("stamp-fails", $"the time stamp {answer} does not hold: the stamp is over something else"), await OnlyAsync(store, authority));
        File.WriteAllBytes(answer, new byte[100_000]);
        Assert.Equal("stamp-fails", (await OnlyAsync(store, authority)).Code);
        File.WriteAllBytes(answer, good);

        File.Move(answer, Path.Combine(Stamps(store), "newest.tsr"));
        Assert.Equal(("stamp-unreadable", $"{Path.Combine(Stamps(store), "newest.tsr")} is not named as a time stamp is"), await OnlyAsync(store, authority));
        File.Move(Path.Combine(Stamps(store), "newest.tsr"), Path.Combine(Stamps(store), $"{store.Sizes[0]}.tsr"));
        File.Copy(note, Path.Combine(Stamps(store), $"{store.Sizes[0]}.txt"));
        Assert.EndsWith($"is the checkpoint over {size} entries", (await OnlyAsync(store, authority)).Text, StringComparison.Ordinal);
        File.Delete(Path.Combine(Stamps(store), $"{store.Sizes[0]}.txt"));
        Assert.EndsWith($"{store.Sizes[0]}.tsr is over, is not there", (await OnlyAsync(store, authority)).Text, StringComparison.Ordinal);
    }

    // Who cuts a record short and its anchors with it leaves the stamps, or takes them away as well: then those elsewhere tell.
    [Fact]
    public async Task A_record_that_was_cut_short_is_told_by_a_stamp_that_is_over_more()
    {
        await using var authority = new HouseAuthority();
        using var store = await StampedAsync(authority);
        var (whole, shorter) = (store.Sizes[^1], store.Sizes[^3]);
        store.CutTo(shorter);
        store.MakeAnchorsAgain();
        store.MakeAnchorsAgain(store.OffBoxFile);
        var check = await CheckAsync(store, authority.RootFile);
        Assert.All(check.Faults, fault => Assert.Equal("smaller-than-anchor", fault.Code));
        Assert.Contains($"holds a checkpoint over {whole} entries, and the record has only {shorter}", check.Faults[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stamp_over_more_that_is_older_than_one_over_fewer_is_remarked()
    {
        using var store = await RecordedStore.MadeAsync();
        await store.GoOnAsync(3);
        using (var text = File.OpenText(store.Anchors))
            foreach (var (note, hours) in AnchorFile.Notes(text).OfType<SignedNote>().TakeLast(2).Zip([2, 1]))
            {
                var size = long.Parse(note.Text.Split('\n')[1], System.Globalization.CultureInfo.InvariantCulture);
                StampFolder.OfStore(store.Folder).Put(size, note.ToBytes(), StampByHand.Over(note.ToBytes(), Monday.AddHours(hours)));
            }
        var check = await CheckAsync(store, null);
        Assert.True(check.Holds);
        Assert.Equal(2, Assert.Single(check.Stamps).Count);
        Assert.Contains($"The time stamp over {store.Sizes[^1]} entries says 2026-03-02T", Assert.Single(check.Remarks), StringComparison.Ordinal);
        Assert.EndsWith(", earlier than one over fewer: the authority's clock was wrong.", check.Remarks[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_copy_takes_the_stamps_along_and_a_new_record_sets_them_aside()
    {
        await using var authority = new HouseAuthority();
        using var store = await StampedAsync(authority);
        await Keeping.StoreCopy.MakeAsync(store.Folder, store["copy"], Token);
        var copied = await StoreVerifier.RunAsync(new VerifyOptions { Folder = store["copy"], AuthorityFile = authority.RootFile }, Token);
        Assert.True(copied.Holds);
        Assert.Equal(store.Sizes[^1], Assert.Single(copied.Stamps).Size);

        Directory.CreateDirectory(store["other"]);
        File.Copy(store.KeyFile, Path.Combine(store["other"], "record.key"));
        await Keeping.StoreRestore.BeginAnewAsync(
            store["copy"], store["other"], new RecordOptions { Shop = "Harrow Lane Works" }, "Ann Reed", "the disk died", store.Time, Token);
        var anew = await StoreVerifier.RunAsync(new VerifyOptions { Folder = store["other"], AuthorityFile = authority.RootFile }, Token);
        Assert.True(anew.Holds, string.Join('\n', anew.Faults));
        Assert.Empty(anew.Stamps);
        var aside = Assert.Single(Directory.GetDirectories(Path.Combine(store["other"], "former")));
        Assert.Single(Directory.GetFiles(Path.Combine(aside, "stamps"), "*.tsr"));
    }

    private static string Stamps(RecordedStore store) => Path.Combine(store.Folder, "stamps");

    private static async Task<RecordedStore> StampedAsync(HouseAuthority authority)
    {
        var store = await RecordedStore.MadeAsync();
        Assert.Null(await new TimeStamping(store.Folder, store.OffBox, TimeStampingTests.Config(authority), TimeProvider.System).StampAsync(Token));
        return store;
    }

    private static Task<RecordCheck> CheckAsync(RecordedStore store, string? authority) => StoreVerifier.RunAsync(
        new VerifyOptions { Folder = store.Folder, OffBoxFolder = store.OffBox, AuthorityFile = authority }, Token);

    private static async Task<(string Code, string Text)> OnlyAsync(RecordedStore store, HouseAuthority authority)
    {
        var fault = Assert.Single((await CheckAsync(store, authority.RootFile)).Faults);
        return (fault.Code, fault.Text);
    }
}
