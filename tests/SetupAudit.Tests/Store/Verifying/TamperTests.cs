using SetupAudit.Records;
using SetupAudit.Store.Records;
using static SetupAudit.Store.Verifying.Tampering;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// What someone with full write access to the files can do, one act a test. Each is found by the check that people run.
/// </summary>
public sealed class TamperTests
{
    private static readonly CancellationToken Token = TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_record_that_nobody_touched_holds_and_says_how_far()
    {
        using var store = await RecordedStore.MadeAsync();
        var check = await store.CheckAsync(pinned: store.Key);
        Assert.Empty(check.Faults);
        Assert.True(check.Holds);
        Assert.Equal(store.Entries, check.VerifiedTo);
        Assert.Equal(store.Entries, check.Entries);
        Assert.Equal([store.Entries, store.Entries], check.Anchors.Select(anchor => anchor.Size));
        Assert.Equal(7, check.Evidence);
        Assert.Equal(store.Sizes.Count, check.Checkpoints);
        Assert.True(check.Rows > 20, $"{check.Rows} rows");
        Assert.Empty(check.Remarks);
    }

    [Fact]
    public async Task Verifying_writes_nothing()
    {
        using var store = await RecordedStore.MadeAsync();
        var before = Digests(store.Folder);
        await store.CheckAsync();
        Assert.Equal(before, Digests(store.Folder));
    }

    [Fact]
    public async Task Act_01_a_bit_flipped_in_an_entry_is_found_at_that_entry()
    {
        using var store = await RecordedStore.MadeAsync();
        for (var number = 0L; number < store.Entries; number += 3)
        {
            // Without the first entry nobody knows which record it is, nor whose key signs it.
            var how = number == 0 ? "does not fit the hash kept with it" : "is not what was signed";
            var body = store.Body(number);
            body[body.Length / 2] ^= 1;
            store.Rewrite(number, body, withLeaf: false);
            await FoundAsync(store, FaultCode.EntryAltered, number, number,
                $"entry {number} was altered: what it says {how}");
            body[body.Length / 2] ^= 1;
            store.Rewrite(number, body, withLeaf: false);
        }
        Assert.True((await store.CheckAsync()).Holds);
    }

    [Fact]
    public async Task Act_01b_a_leaf_hash_altered_beside_a_good_body_is_told_apart()
    {
        using var store = await RecordedStore.MadeAsync();
        store.Attack($"UPDATE entry SET leaf = x'{MerkleTree.EmptyRoot}' WHERE number = 5");
        await FoundAsync(store, FaultCode.EntryAltered, 5, 5,
            "the hash kept with entry 5 was altered; what it says is as it was signed");
    }

    [Fact]
    public async Task Act_02_an_entry_edited_together_with_its_leaf_hash_is_found_between_two_checkpoints()
    {
        using var store = await RecordedStore.MadeAsync();
        var number = store.Middle;
        var (good, bad) = Around(store, number);
        store.Rewrite(number, Edited(store, number));
        await FoundAsync(store, FaultCode.TreeAltered, good, good, $"the checkpoint over {bad} entries was signed over "
            + $"others: of the entries {good} to {bad - 1} one or more were altered, added or taken away");
    }

    [Fact]
    public async Task Act_03_the_tree_made_again_over_an_edited_entry_has_no_signature()
    {
        using var store = await RecordedStore.MadeAsync();
        var number = store.Middle;
        var (good, bad) = Around(store, number);
        store.Rewrite(number, Edited(store, number));
        store.MakeTreeAgain(signWith: null);
        await FoundAsync(store, FaultCode.BadSignature, good, good, $"the checkpoint over {bad} entries does not hold: "
            + $"the signature by {store.Key.Name}+{store.Key.KeyId:x8} does not hold");
    }

    [Fact]
    public async Task Act_04_even_signed_with_the_stolen_key_it_is_another_record_than_the_anchored_one()
    {
        using var store = await RecordedStore.MadeAsync();
        store.Rewrite(store.Middle, Edited(store, store.Middle));
        store.MakeTreeAgain(signWith: store.KeyFile);
        Assert.Contains((await store.CheckAsync(offBox: false)).Faults, fault => fault.Code == FaultCode.AnchorDiffers);
        store.MakeAnchorsAgain();
        // The whole folder is consistent in itself now: only what is kept elsewhere tells, and it does.
        Assert.True((await store.CheckAsync(offBox: false)).Holds);
        var check = await store.CheckAsync();
        Assert.Contains(check.Faults, fault => fault.Code == FaultCode.AnchorDiffers && fault.Text.StartsWith(
            $"{store.OffBoxFile} holds another root", StringComparison.Ordinal));
        Assert.True(check.VerifiedTo < check.Entries);
    }

    [Fact]
    public async Task Act_05_an_entry_deleted_from_the_middle_is_found_by_its_number()
    {
        using var store = await RecordedStore.MadeAsync();
        var number = store.Middle;
        store.Attack($"DELETE FROM entry WHERE number = {number}");
        await FoundAsync(store, FaultCode.EntryMissing, number, number,
            $"entry {number} is missing: the next one that is there is {number + 1}");
        store.Attack($"UPDATE entry SET number = number - 1 WHERE number > {number}");
        var check = await store.CheckAsync();
        Assert.Contains(check.Faults, fault => fault.Code == FaultCode.EntryMisplaced && fault.Entry == number
            && fault.Text == $"entry {number} says of itself that it is entry {number + 1}");
    }

    [Fact]
    public async Task Act_06_the_newest_entries_deleted_are_missed_by_the_checkpoint_and_by_the_anchor()
    {
        using var store = await RecordedStore.MadeAsync();
        var all = store.Entries;
        store.Attack($"DELETE FROM entry WHERE number >= {all - 2}");
        await FoundAsync(store, FaultCode.EntryMissing, all - 2, store.Sizes.Last(size => size <= all - 2),
            $"a signed checkpoint covers {store.Sizes.First(size => size > all - 2)} entries, and only {all - 2} are there: those from {all - 2} on are missing");
        store.CutTo(store.Sizes[^3]);
        var cut = store.Entries;
        await FoundAsync(store, FaultCode.AnchorAhead, cut, cut, $"{store.Anchors} holds a checkpoint over {all} entries, "
            + $"and the record has only {cut}: it was cut short, or an older copy was put back");
        store.MakeAnchorsAgain();
        Assert.True((await store.CheckAsync(offBox: false)).Holds);
        await FoundAsync(store, FaultCode.AnchorAhead, cut, cut, $"{store.OffBoxFile} holds a checkpoint over {all} "
            + $"entries, and the record has only {cut}: it was cut short, or an older copy was put back");
    }

    [Fact]
    public async Task Act_07_a_record_cut_short_and_gone_on_with_is_not_the_anchored_one()
    {
        using var store = await RecordedStore.MadeAsync();
        var all = store.Entries;
        store.CutTo(store.Sizes[^4]);
        var refused = await Assert.ThrowsAsync<StoreException>(() => store.OpenAsync());
        Assert.Contains("a second history is never signed", refused.Message, StringComparison.Ordinal);
        store.MakeAnchorsAgain();
        await store.GoOnAsync(from: 7, offBox: false);
        Assert.True(store.Entries > all);
        Assert.True((await store.CheckAsync(offBox: false)).Holds);
        var check = await store.CheckAsync();
        Assert.False(check.Holds);
        Assert.Contains(check.Faults, fault => fault.Code == FaultCode.AnchorDiffers);
    }

    [Fact]
    public async Task Act_08_old_entries_sealed_again_with_the_key_of_today_do_not_hold()
    {
        using var store = await RecordedStore.MadeAsync();
        var old = store.Key;
        using var next = RecordKey.Create(store["next.key"], store.Origin);
        await using (var open = await store.OpenAsync())
            await open.SayAsync([new RecordWord(RecordKind.Key, Said.Of(json => json.WriteString("key", next.Verifier.ToString())))], Token);
        var size = store.Sizes[^1];
        // The old key alone does not make the new one valid: the new one must sign too.
        await FoundAsync(store, FaultCode.BadSignature, store.Sizes[^2], store.Sizes[^2],
            $"the checkpoint over {size} entries does not hold: the key {old.Name}+{next.Verifier.KeyId:x8}, which is in force there, did not sign it");
        Sign(store, size, store.KeyFile, store["next.key"]);
        store.MakeAnchorsAgain();
        Assert.Empty((await store.CheckAsync(offBox: false)).Faults);
        Assert.True((await store.CheckAsync(offBox: false, pinned: old)).Holds);
        Assert.True((await store.CheckAsync(offBox: false, pinned: next.Verifier)).Holds);

        Sign(store, store.Sizes[2], store["next.key"]);
        await FoundAsync(store, FaultCode.UnknownKey, store.Sizes[1], store.Sizes[1],
            $"the checkpoint over {store.Sizes[2]} entries does not hold: no key that is known has signed it");
    }

    [Fact]
    public async Task Act_09_entries_swapped_or_doubled_say_where_they_belong()
    {
        using var store = await RecordedStore.MadeAsync();
        var number = store.Middle;
        var (one, two) = (store.Body(number), store.Body(number + 1));
        store.Rewrite(number, two);
        store.Rewrite(number + 1, one);
        await FoundAsync(store, FaultCode.EntryMisplaced, number, null, $"entry {number} says of itself that it is entry {number + 1}");
        store.Rewrite(number, one);
        await FoundAsync(store, FaultCode.EntryMisplaced, number + 1, null, $"entry {number + 1} says of itself that it is entry {number}");
    }

    [Fact]
    public async Task Act_10_an_entry_copied_from_another_record_names_that_record()
    {
        using var store = await RecordedStore.MadeAsync();
        using var other = await RecordedStore.MadeAsync();
        var number = store.Middle;
        store.Rewrite(number, other.Body(number));
        await FoundAsync(store, FaultCode.EntryMisplaced, number, null,
            $"entry {number} says of itself that it belongs to the record {other.Origin}");
    }

    [Fact]
    public async Task Act_11_a_signature_moved_to_another_checkpoint_does_not_hold_there()
    {
        using var store = await RecordedStore.MadeAsync();
        var (from, to) = (store.Sizes[1], store.Sizes[2]);
        store.Attack($"UPDATE checkpoint SET signed = (SELECT signed FROM checkpoint WHERE size = {from}) WHERE size = {to}");
        await FoundAsync(store, FaultCode.BadSignature, from, from, $"the checkpoint over {to} entries does not hold: "
            + $"the signature by {store.Key.Name}+{store.Key.KeyId:x8} does not hold");
    }
}
