using SetupAudit.Records;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Records;

public sealed class RecordTests
{
    [Fact]
    public async Task Every_transaction_is_said_sealed_and_signed_and_begins_with_the_records_name_and_key()
    {
        using var temp = new TempStore();
        await FillAsync(temp);

        var bodies = Bodies(temp);
        Assert.Equal(Enumerable.Range(0, bodies.Count).Select(number => (long)number), bodies.Select(body => body.Number));
        Assert.Equal(RecordKind.Begin, bodies[0].Kind);
        Assert.All(bodies, body => Assert.Equal(bodies[0].Origin, body.Origin));
        Assert.StartsWith("setupaudit/", bodies[0].Origin, StringComparison.Ordinal);
        Assert.Equal(2, bodies.Count(body => body.Kind == RecordKind.Arrival));
        var finding = Assert.Single(bodies, body => body.Kind == RecordKind.Finding);
        Assert.Contains("\"step\":\"raised\"", finding.Said, StringComparison.Ordinal);
        Assert.Contains("\"message\":\"Z was not set.\"", finding.Said, StringComparison.Ordinal);
        Assert.Equal((long)bodies.Count, temp.Ask("SELECT MAX(size) FROM checkpoint"));
    }

    [Fact]
    public async Task Every_row_of_every_lasting_table_is_in_exactly_one_sealed_range()
    {
        using var temp = new TempStore();
        await FillAsync(temp);

        var sealedRows = Bodies(temp).Where(body => body.Kind == RecordKind.Rows)
            .Select(body => SealedRows.Read(body.Said)!).ToList();
        var tables = Strings(temp, """
            SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%' AND name NOT LIKE 'scratch%'
                AND name NOT IN ('entry', 'checkpoint') ORDER BY name
            """);
        Assert.Equal(SealedTables.All.Select(table => table.Name).Order(StringComparer.Ordinal), tables);
        foreach (var table in tables)
            Assert.Equal(temp.Ask($"SELECT COUNT(*) FROM {table}"),
                sealedRows.Where(rows => rows.Table == table).Sum(rows => rows.Rows));
        Assert.Contains(sealedRows, rows => rows is { Table: "derived", Setup: "mill-3@20260302-070000", Rows: 2 });
        Assert.Contains(sealedRows, rows => rows is { Table: "derived", Setup: null, Rows: 1 });
    }

    [Fact]
    public async Task A_transaction_that_fails_leaves_no_entry_and_the_next_goes_on_without_a_gap()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync())
        {
            await store.TakeInAsync(Batch(Dump("one")), Token);
            var size = store.Record?.Size;
            store.OnStep = step =>
            {
                if (step == StoreStep.RowsWritten) throw new InvalidOperationException("stopped here");
            };
            await Assert.ThrowsAsync<InvalidOperationException>(() => store.TakeInAsync(Batch(Dump("two", 1)), Token));
            store.OnStep = null;
            Assert.Equal(size, store.Record?.Size);
            await store.TakeInAsync(Batch(Dump("two", 1)), Token);
        }
        var bodies = Bodies(temp);
        Assert.Equal(bodies.Count - 1, bodies[^1].Number);
        Assert.Equal(2, bodies.Count(body => body.Kind == RecordKind.Arrival));
    }

    [Fact]
    public async Task The_first_transaction_that_fails_does_not_lose_the_beginning()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync())
        {
            store.OnStep = _ => throw new InvalidOperationException("stopped here");
            await Assert.ThrowsAsync<InvalidOperationException>(() => store.TakeInAsync(Batch(Dump("one")), Token));
            store.OnStep = null;
            await store.TakeInAsync(Batch(Dump("one")), Token);
        }
        Assert.Equal(RecordKind.Begin, Bodies(temp)[0].Kind);
    }

    [Fact]
    public async Task A_row_that_something_else_wrote_is_found_at_the_next_start_and_nothing_is_signed_over_it()
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        temp.Run("INSERT INTO horizon (machine, at_utc, recorded_utc) VALUES ('lathe-1', '2026-03-09', '2026-03-09')");

        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenAsync);
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.Contains("the table horizon holds rows from", fault.Message, StringComparison.Ordinal);
        Assert.Contains("Run 'verify'", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_record_whose_frontier_is_lost_is_walked_and_goes_on()
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        temp.Run("DELETE FROM scratch_frontier");
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("three", 9)), Token);

        await using var again = await temp.OpenAsync();
        Assert.True(again.Record?.IsAnchored);
    }

    [Fact]
    public async Task An_older_copy_put_back_beside_newer_checkpoints_is_refused()
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        using var older = temp.Image();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("three", 9)), Token);
        File.Copy(Path.Combine(temp.Folder, AnchorFile.FileName), Path.Combine(older.Folder, AnchorFile.FileName), true);

        var fault = await Assert.ThrowsAsync<StoreException>(older.OpenAsync);
        Assert.Contains("a second history is never signed", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_whole_older_folder_put_back_is_refused_by_the_copy_off_the_computer()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        var options = new RecordOptions { Shop = "Harrow Lane Works", OffBoxFolder = share.Folder };
        await using (var store = await OpenAsync(temp, options)) await store.TakeInAsync(Batch(Dump("one")), Token);
        using var older = temp.Image();
        await using (var store = await OpenAsync(temp, options)) await store.TakeInAsync(Batch(Dump("two", 1)), Token);

        var fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(older, options));
        Assert.Contains("kept off this computer do not fit", fault.Message, StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(share.Folder), path => Path.GetFileName(path)
            .StartsWith("setupaudit-harrow-lane-works-", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_folder_off_the_computer_that_is_away_holds_nothing_up_and_is_said()
    {
        using var temp = new TempStore();
        using var share = new TempShare();
        var away = Path.Combine(share.Folder, "away");
        var options = new RecordOptions { OffBoxFolder = away };
        await using (var store = await OpenAsync(temp, options))
        {
            await store.TakeInAsync(Batch(Dump("one")), Token);
            Assert.Contains("not there", store.Record?.OffBoxFault, StringComparison.Ordinal);
        }
        Directory.CreateDirectory(away);
        await using (var store = await OpenAsync(temp, options)) Assert.Null(store.Record?.OffBoxFault);
        Assert.Single(Directory.GetFiles(away));
    }

    [Fact]
    public async Task What_a_crash_kept_from_the_checkpoint_file_is_appended_at_the_next_start()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("one")), Token);
        await store.AnchorAsync(Token);
        await store.TakeInAsync(Batch(Dump("two", 1)), Token);
        using var killed = temp.Image();

        var size = (long)killed.Ask("SELECT MAX(size) FROM checkpoint")!;
        Assert.True(Anchored(killed) < size);
        await using (await killed.OpenAsync()) Assert.Equal(size, Anchored(killed));
    }

    [Theory]
    [InlineData("a")]
    [InlineData("setupaudit/shop/0011223344556677\n12\nAAAA")]
    [InlineData("setupaudit/shop/0011223344556677\n12\nAAAA\n\n— setupaudit/shop")]
    public async Task A_note_that_a_crash_cut_short_is_taken_away_and_the_whole_ones_stay(string torn)
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        var path = Path.Combine(temp.Folder, AnchorFile.FileName);
        var before = await File.ReadAllTextAsync(path, Token);
        await File.AppendAllTextAsync(path, torn, Token);

        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("three", 9)), Token);

        var after = await File.ReadAllTextAsync(path, Token);
        Assert.StartsWith(before, after, StringComparison.Ordinal);
        using var text = new StringReader(after);
        Assert.DoesNotContain(AnchorFile.Notes(text), note => note is null);
        Assert.DoesNotContain(torn + "\nsetupaudit", after, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_that_is_missing_is_said_and_nothing_is_written()
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        File.Delete(Path.Combine(temp.Folder, "record.key"));

        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenAsync);
        Assert.Contains("record.key", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Another_key_than_the_one_that_signed_is_refused()
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        using var other = new TempStore();
        await FillAsync(other);
        File.Copy(Path.Combine(other.Folder, "record.key"), Path.Combine(temp.Folder, "record.key"), true);

        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenAsync);
        Assert.Contains("is not signed by the key", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_configuration_is_kept_as_it_was_written_and_said_when_it_is_another()
    {
        using var temp = new TempStore();
        var (first, second) = (Bytes("{ \"Shop\": 1 }"), Bytes("{ \"Shop\": 2 }"));
        await using (var store = await temp.OpenAsync())
        {
            await store.RecordStartAsync(Start(first), Token);
            await store.RecordStartAsync(Start(first), Token);
            await store.RecordStartAsync(Start(second), Token);
            Assert.Equal(second, await store.Reader.ReadEvidenceAsync(Hash(second), Token));
        }
        var said = Bodies(temp).Where(body => body.Kind == RecordKind.Configuration).Select(body => body.Said).ToList();
        Assert.Equal(2, said.Count);
        Assert.Contains($"\"before\":\"{Hash(first)}\",\"after\":\"{Hash(second)}\"",
            said[1], StringComparison.Ordinal);
    }

    private static StartRecord Start(byte[] configuration) =>
        new(Monday, "once", "1.0", Hash(configuration)) { Configuration = configuration };

    private static Task<AuditStore> OpenAsync(TempStore temp, RecordOptions options) =>
        AuditStore.OpenAsync(temp.Folder, options, TimeProvider.System, Token);

    private static long Anchored(TempStore temp) =>
        new AnchorFile(Path.Combine(temp.Folder, AnchorFile.FileName)).Last() is { } note
        && Checkpoint.TryRead(note.Text, out var checkpoint, out _)
            ? checkpoint.Size
            : 0;

    private static List<RecordBody> Bodies(TempStore temp) =>
        [.. temp.Rows("SELECT body FROM entry ORDER BY number").Select(body => RecordBody.Read((byte[])body)!)];

    private static List<string> Strings(TempStore temp, string sql) => [.. temp.Rows(sql).Select(row => (string)row)];

    private static async Task FillAsync(TempStore temp)
    {
        await using var store = await temp.OpenAsync();
        await store.RecordStartAsync(new StartRecord(Monday, "once", "1.0", "aa"), Token);
        await store.TakeInAsync(Batch(Dump("one"), Dump("two", 1)), Token);
        await store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = "mill-3",
            ScopeFromUtc = Monday,
            Rows =
            [
                new DerivedRow { Kind = DerivedKind.Cycle, Id = "c", ScopeUtc = Monday, AtUtc = Monday, Body = "{}" },
                Row(DerivedKind.Change, "x", "{}"),
                Row(DerivedKind.Finding, "f", "{\"message\":\"Z was not set.\"}"),
            ],
            WithdrawnBecause = "it no longer holds",
            HorizonUtc = Monday,
        }, Token);
    }

    private static DerivedRow Row(DerivedKind kind, string id, string body) => new()
    {
        Kind = kind,
        Id = id,
        ScopeUtc = Monday,
        AtUtc = Monday,
        Setup = "mill-3@20260302-070000",
        Body = body,
    };
}
