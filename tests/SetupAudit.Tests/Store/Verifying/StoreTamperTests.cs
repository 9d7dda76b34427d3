using System.Text;
using SetupAudit.Records;
using SetupAudit.Support;
using static SetupAudit.Store.Verifying.Tampering;

namespace SetupAudit.Store.Verifying;

/// <summary>
/// What someone with full write access to the files can do to a store as a whole: its copies, its rows, its evidence.
/// </summary>
public sealed class StoreTamperTests
{
    private static readonly CancellationToken Token = TestContext.Current.CancellationToken;

    [Fact]
    public async Task Act_12_another_whole_store_put_in_its_place_is_not_the_pinned_nor_the_anchored_one()
    {
        using var store = await RecordedStore.MadeAsync();
        var pinned = store.Key;
        using var other = await RecordedStore.MadeAsync();
        Directory.Delete(store.Folder, recursive: true);
        RecordedStore.Copy(other.Folder, store.Folder);
        var check = await store.CheckAsync(offBox: false, pinned: pinned);
        Assert.Equal((FaultCode.OtherKey, 0L), (check.Faults[0].Code, check.VerifiedTo));
        Assert.Equal($"the record is not signed with the key {pinned} that was given, but with {other.Key}; the key given is of another record, {pinned.Name}", check.Faults[0].Text);
        await FoundAsync(store, FaultCode.AnchorMissing, null, null,
            $"{store.OffBox} holds no checkpoints of this record, {other.Origin}");
    }

    [Fact]
    public async Task Act_13_an_older_copy_put_back_is_found_and_nothing_is_signed_after_it()
    {
        using var store = await RecordedStore.MadeAsync();
        RecordedStore.Copy(store.Folder, store["last-week"]);
        await store.GoOnAsync(from: 3);
        var all = store.Entries;
        Directory.Delete(store.Folder, recursive: true);
        RecordedStore.Copy(store["last-week"], store.Folder);
        var cut = store.Entries;
        await FoundAsync(store, FaultCode.AnchorAhead, cut, cut, $"{store.OffBoxFile} holds a checkpoint over {all} "
            + $"entries, and the record has only {cut}: it was cut short, or an older copy was put back");
        var refused = await Assert.ThrowsAsync<StoreException>(() => store.GoOnAsync(from: 9));
        Assert.Contains("a second history is never signed", refused.Message, StringComparison.Ordinal);
        Assert.Equal(cut, store.Entries);
    }

    [Fact]
    public async Task Act_14_a_record_without_signatures_is_a_failure_and_not_passed_over()
    {
        using var store = await RecordedStore.MadeAsync();
        store.Attack("UPDATE checkpoint SET signed = ''");
        await FoundAsync(store, FaultCode.NoCheckpoint, 0, 0, $"the checkpoint over {store.Sizes[0]} entries does not hold: it is not signed");
        store.Attack("DELETE FROM checkpoint");
        await FoundAsync(store, FaultCode.NoCheckpoint, 0, 0, $"the record has {store.Entries} entries and no signed checkpoint");
    }

    [Fact]
    public async Task Act_15_another_key_than_the_one_that_was_given_is_a_failure_of_its_own()
    {
        using var store = await RecordedStore.MadeAsync();
        var other = new VerifierKey(store.Origin, new byte[32]);
        var check = await store.CheckAsync(pinned: other);
        Assert.Equal((FaultCode.OtherKey, 0L, 0L), (check.Faults[0].Code, check.Faults[0].Entry, check.VerifiedTo));
        Assert.StartsWith($"the record is not signed with the key {other} that was given, but with {store.Key}. Where 'key rotate' ",
            check.Faults[0].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("size", "0"), InlineData("plus", "+"), InlineData("cr", "\r"), InlineData("blank", " ")]
    [InlineData("lines", "\n\n"), InlineData("origin", "е"), InlineData("padding", "="), InlineData("root", "A")]
    public async Task Act_17_a_checkpoint_written_another_way_is_none(string what, string put)
    {
        using var store = await RecordedStore.MadeAsync();
        var text = File.ReadAllText(store.Anchors);
        var lines = text.Split('\n');
        var altered = what switch
        {
            "size" or "plus" => string.Join('\n', [lines[0], put + lines[1], .. lines[2..]]),
            "cr" => string.Join('\n', [lines[0] + " " + put, .. lines[1..]]),
            "blank" => string.Join('\n', [lines[0], lines[1] + put, .. lines[2..]]),
            "lines" => string.Join('\n', [lines[0], lines[1], lines[2] + put, .. lines[3..]]),
            "origin" => string.Join('\n', [lines[0].Replace("e", put, StringComparison.Ordinal), .. lines[1..]]),
            "padding" => string.Join('\n', [lines[0], lines[1], lines[2].TrimEnd('='), .. lines[3..]]),
            _ => string.Join('\n', [lines[0], lines[1], put + lines[2][1..], .. lines[3..]]),
        };
        Assert.NotEqual(text, altered);
        File.WriteAllText(store.Anchors, altered);
        var check = await store.CheckAsync();
        Assert.False(check.Holds);
        Assert.All(check.Faults, fault => Assert.StartsWith("anchor-", fault.Code, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("{\"v\":1,\"v\":2}"), InlineData("\uFEFF{}"), InlineData("{\"number\":NaN}"), InlineData("{\"number\":1e400}")]
    [InlineData("{\"origin\":\"\\ud800\"}"), InlineData("deep"), InlineData(""), InlineData("[]"), InlineData("null")]
    public async Task Act_18_tricks_of_json_in_an_entry_are_refused(string body)
    {
        using var store = await RecordedStore.MadeAsync();
        var bytes = Encoding.UTF8.GetBytes(body == "deep" ? new string('[', 10_000) : body);
        var number = store.Middle;
        store.Rewrite(number, bytes);
        // Signed with the stolen key and anchored again: only what the entry says is wrong.
        store.MakeTreeAgain(signWith: store.KeyFile);
        store.MakeAnchorsAgain();
        await FoundAsync(store, FaultCode.EntryUnreadable, number, number,
            $"entry {number} is not written as an entry is", offBox: false);
    }

    [Fact]
    public async Task Act_19_a_clock_set_back_or_forward_alters_no_order_and_is_told()
    {
        using var store = await RecordedStore.MadeAsync();
        var clock = new HandClock("2026-03-02T07:00:00Z");
        store.Time = clock;
        var first = store.Entries;
        await store.GoOnAsync(from: 3);
        store.Time = new HandClock("2027-03-02T07:00:00Z");
        await store.GoOnAsync(from: 6);
        var check = await store.CheckAsync();
        Assert.Empty(check.Faults);
        Assert.Equal($"The clock was set back 1 times while the record was written, first at entry {first}; the order of entries does not rest on it.",
            Assert.Single(check.Remarks));
    }

    [Theory]
    [InlineData("DROP TRIGGER derived_update", "the database lacks the trigger derived_update that the program builds")]
    [InlineData("DROP INDEX derived_key", "the database lacks the index derived_key that the program builds")]
    [InlineData("CREATE TABLE more (a)", "the database has a table more that the program does not build")]
    [InlineData("CREATE VIEW more AS SELECT 1", "the database has a view more that the program does not build")]
    [InlineData("PRAGMA writable_schema=ON; UPDATE sqlite_schema SET sql = replace(sql, 'is append-only', 'was') WHERE name = 'batch_delete'",
        "the trigger batch_delete of the database is not built as the program builds it")]
    public async Task Act_20_a_database_built_otherwise_shows_even_where_every_row_is_right(string sql, string says)
    {
        using var store = await RecordedStore.MadeAsync();
        Execute(store, sql);
        var check = await store.CheckAsync();
        Assert.Contains(check.Faults, fault => fault.Code == FaultCode.SchemaAltered && fault.Text == says);
    }

    [Theory]
    [InlineData("UPDATE arrival SET machine = 'mill-4' WHERE seq = 3", "arrival", "something in them was altered")]
    [InlineData("UPDATE derived SET body = replace(body, 'not set', 'was set') WHERE kind = 'finding' AND seq = (SELECT MIN(seq) FROM derived WHERE kind = 'finding')", "derived", "something in them was altered")]
    [InlineData("DELETE FROM derived WHERE seq = 2", "derived", "1 of 3 are missing")]
    [InlineData("UPDATE horizon SET at_utc = '2030-01-01T00:00:00.0000000Z' WHERE seq = 2", "horizon", "something in them was altered")]
    [InlineData("UPDATE blob SET segment = 9 WHERE rowid = 3", "blob", "something in them was altered")]
    [InlineData("UPDATE start SET command = 'demo' WHERE seq = 1", "start", "something in them was altered")]
    [InlineData("UPDATE migration SET applied_utc = '2020' WHERE number = 1", "migration", "something in them was altered")]
    [InlineData("UPDATE batch SET recorded_utc = '2020' WHERE seq = 1", "batch", "something in them was altered")]
    public async Task Act_20b_a_row_altered_past_the_guards_is_found_at_the_entry_that_seals_it(string sql, string table, string why)
    {
        using var store = await RecordedStore.MadeAsync();
        store.Attack(sql);
        var check = await store.CheckAsync();
        var first = check.Faults[0];
        Assert.Equal(FaultCode.RowsAltered, first.Code);
        Assert.Contains($" of the table {table} ", first.Text.Replace(" of " + RecordedStore.Setup, " ", StringComparison.Ordinal).Replace("  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.EndsWith(why, first.Text, StringComparison.Ordinal);
        Assert.Equal(first.Entry, check.VerifiedTo);
        Assert.Contains("\"kind\":\"rows\"", Encoding.UTF8.GetString(store.Body(first.Entry ?? -1)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("INSERT INTO batch (seq, recorded_utc) VALUES (1000, '2026')", "the table batch has rows after 3 that no entry seals")]
    [InlineData("INSERT INTO batch (seq, recorded_utc) VALUES (-1, '2026')", "the table batch has rows with keys below 1, which nothing seals")]
    [InlineData("INSERT INTO batch (seq, recorded_utc) VALUES (-9223372036854775808, '2026')", "the table batch has rows with keys below 1, which nothing seals")]
    public async Task Act_20c_a_row_added_past_the_guards_is_sealed_by_nothing(string sql, string says)
    {
        using var store = await RecordedStore.MadeAsync();
        store.Attack(sql);
        await FoundAsync(store, FaultCode.RowsUnsealed, null, store.Entries, says);
    }

    [Fact]
    public async Task Act_20d_insert_or_replace_is_refused_by_the_guards()
    {
        using var store = await RecordedStore.MadeAsync();
        using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={store.Database};Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        foreach (var sql in new[]
        {
            "INSERT OR REPLACE INTO entry (number, body, leaf) VALUES (1, x'00', zeroblob(32))",
            "INSERT OR REPLACE INTO checkpoint (size, root, signed) SELECT size, zeroblob(32), '' FROM checkpoint",
            "UPDATE entry SET body = x'00'", "DELETE FROM checkpoint",
        })
        {
            command.CommandText = sql;
            Assert.Contains("is append-only", Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => command.ExecuteNonQuery()).Message, StringComparison.Ordinal);
        }
        Assert.True((await store.CheckAsync()).Holds);
    }

    [Fact]
    public async Task Act_20e_a_byte_written_into_the_file_itself_is_found_wherever_it_lies()
    {
        using var store = await RecordedStore.MadeAsync();
        var whole = File.ReadAllBytes(store.Database);
        var rows = store.Everything();
        var found = 0;
        var tried = 0;
        // Words that stand in lasting rows and statements: scratch tables hold nothing that is shown.
        foreach (var word in new[] { "Z was not set.", "harrow-lane-works/", "axis-not-set", "is append-only" })
            for (var at = IndexOf(whole, word, 0); at >= 0 && tried < 60; at = IndexOf(whole, word, at + 1))
            {
                tried++;
                byte[] altered = [.. whole];
                altered[at + 3] ^= 2;
                await File.WriteAllBytesAsync(store.Database, altered, Token);
                if (!(await store.CheckAsync(evidence: false)).Holds) found++;
                else Assert.Equal(rows, store.Everything());
            }
        Assert.True(tried > 20, $"{tried} places");
        // What was not found lies in free space within a page: no row and no statement reads otherwise.
        Assert.InRange(found, tried / 2, tried);
    }

    [Fact]
    public async Task Act_20f_evidence_altered_or_taken_away_is_found_and_leaving_it_out_is_told()
    {
        using var store = await RecordedStore.MadeAsync();
        var segment = Directory.GetFiles(Path.Combine(store.Folder, "evidence")).Order(StringComparer.Ordinal).First();
        var bytes = await File.ReadAllBytesAsync(segment, Token);
        bytes[^3] ^= 4;
        await File.WriteAllBytesAsync(segment, bytes, Token);
        var check = await store.CheckAsync();
        Assert.Equal(FaultCode.EvidenceAltered, Assert.Single(check.Faults).Code);
        Assert.Matches(@"^offsets/\w+\.nc of mill-3: Evidence is damaged: the bytes with SHA-256 [0-9a-f]{64} .*seg$", check.Faults[0].Text);
        var without = await store.CheckAsync(evidence: false);
        Assert.True(without.Holds);
        Assert.Null(without.Evidence);
        File.Delete(segment);
        Assert.Equal(7, (await store.CheckAsync()).FaultCount);
    }

    [Fact]
    public async Task Act_21_two_services_cannot_write_one_store()
    {
        using var store = await RecordedStore.MadeAsync();
        await using var first = await store.OpenAsync();
        var refused = await Assert.ThrowsAsync<StoreException>(() => store.OpenAsync());
        Assert.Equal(StoreFaultKind.Final, refused.Kind);
        Assert.Contains("One service writes a store at a time", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Act_22_eight_writers_at_once_make_no_fork_no_gap_and_no_false_alarm()
    {
        const int writers = 8;
        const int appends = 1000;
        using var store = await RecordedStore.MadeAsync();
        var before = store.Entries;
        await using (var open = await store.OpenAsync())
        {
            await Parallel.ForEachAsync(Enumerable.Range(0, writers), new ParallelOptions { MaxDegreeOfParallelism = writers, CancellationToken = Token },
                async (writer, token) =>
                {
                    for (var number = 0; number < appends; number++)
                        await open.SayAsync([new RecordWord(RecordKind.SignIn, $$"""{"writer":{{writer}},"number":{{number}}}""")], token);
                });
            // While the service runs, newest entries may be unanchored: that is no fault.
            var during = await store.CheckAsync();
            Assert.Empty(during.Faults);
            Assert.True(during.IsWritten);
        }
        var check = await store.CheckAsync();
        Assert.Empty(check.Faults);
        Assert.Equal(before + writers * appends, check.Entries);
    }

    [Fact]
    public async Task Entries_that_are_not_anchored_while_nothing_runs_are_a_failure()
    {
        using var store = await RecordedStore.MadeAsync();
        var notes = (await File.ReadAllTextAsync(store.Anchors, Token)).Split("\n\n— ");
        Assert.True(notes.Length > 1);
        var first = store.Sizes[0];
        store.MakeAnchorsAgain();
        var all = await File.ReadAllTextAsync(store.Anchors, Token);
        await File.WriteAllTextAsync(store.Anchors, all[..all.IndexOf("\n\n" + store.Origin, StringComparison.Ordinal)] + "\n\n", Token);
        await FoundAsync(store, FaultCode.NotAnchored, first, first,
            $"the entries {first} to {store.Entries - 1} are not anchored in {store.Anchors}, and no service is running that would do it", offBox: false);
    }

    [Fact]
    public async Task What_is_not_there_is_a_failure()
    {
        using var store = new RecordedStore();
        Directory.CreateDirectory(store.Folder);
        var check = await store.CheckAsync(offBox: false);
        Assert.Equal(FaultCode.NoStore, Assert.Single(check.Faults).Code);
        Assert.Equal($"there is no record in {store.Folder}: the database {store.Database} is not there", check.Faults[0].Text);
        await using (await store.OpenAsync(offBox: false))
        {
        }
        check = await store.CheckAsync(offBox: false);
        Assert.Equal(FaultCode.Empty, check.Faults[0].Code);
        Assert.Equal("the record is empty: it has no entry and no checkpoint", check.Faults[0].Text);
        await File.WriteAllTextAsync(store.Database, "not a database at all, but long enough to be looked at as one", Token);
        Assert.Equal(FaultCode.Damaged, (await store.CheckAsync(offBox: false)).Faults[0].Code);
    }

    [Fact]
    public async Task An_anchor_file_that_is_gone_is_a_failure()
    {
        using var store = await RecordedStore.MadeAsync();
        File.Delete(store.Anchors);
        await FoundAsync(store, FaultCode.AnchorMissing, null, store.Entries,
            $"{store.Anchors} holds no checkpoint: the record is anchored nowhere there");
        Directory.Delete(store.OffBox, recursive: true);
        await FoundAsync(store, FaultCode.AnchorMissing, null, store.Entries,
            $"the folder {store.OffBox}, where checkpoints are copied to, is not there");
    }
}
