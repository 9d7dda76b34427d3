using System.Globalization;
using SetupAudit.Store.Segments;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class OpeningTests
{
    [Fact]
    public async Task A_second_writer_is_told_who_holds_the_store()
    {
        using var temp = new TempStore();
        await using var first = await temp.OpenAsync();

        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenAsync);
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.Contains(string.Create(CultureInfo.InvariantCulture,
            $"process {Environment.ProcessId}, started writing here at 2026-03-02T08:00:00Z"), fault.Message, StringComparison.Ordinal);
        await first.TakeInAsync(Batch(Dump("still works")), Token);
    }

    [Fact]
    public async Task The_lock_is_free_when_its_holder_is_gone_whatever_its_file_says()
    {
        using var temp = new TempStore();
        await using (await temp.OpenAsync())
        {
        }
        await File.WriteAllTextAsync(Path.Combine(temp.Folder, "store.lock"), "process 1, started long ago", Token);

        await using var store = await temp.OpenAsync();
        Assert.Single(await store.TakeInAsync(Batch(Dump("a")), Token));
    }

    [Fact]
    public async Task A_reader_sees_what_is_committed_while_a_writer_works()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await store.TakeInAsync(Batch(Dump("a")), Token);
        using var reader = await temp.OpenReaderAsync();
        Assert.Single(await AllAsync(reader.ArrivalsAsync(null, 0, Token)));

        await store.TakeInAsync(Batch(Dump("b", 1)), Token);
        Assert.Equal(2, (await AllAsync(reader.ArrivalsAsync(null, 0, Token))).Count);
        Assert.Equal(Bytes("b"), await reader.ReadEvidenceAsync(Hash(Bytes("b")), Token));
    }

    [Fact]
    public async Task A_reader_sees_nothing_of_a_batch_that_is_not_committed()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var seen = -1;
        store.OnStep = step =>
        {
            if (step == StoreStep.RowsWritten)
                seen = Convert.ToInt32(temp.Ask("SELECT COUNT(*) FROM arrival"), CultureInfo.InvariantCulture);
        };
        await store.TakeInAsync(Batch(Dump("a")), Token);
        Assert.Equal(0, seen);
    }

    [Fact]
    public async Task A_folder_without_a_record_is_said_in_a_sentence()
    {
        using var temp = new TempStore();
        var fault = await Assert.ThrowsAsync<StoreException>(temp.OpenReaderAsync);
        Assert.Contains("There is no record in", fault.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(temp.Folder));
    }

    [Fact]
    public async Task A_store_of_a_newer_program_is_refused_by_writer_and_reader()
    {
        using var temp = new TempStore();
        await using (await temp.OpenAsync())
        {
        }
        temp.Run("INSERT INTO migration (number, name, sha256, applied_utc) VALUES (900, '0900-later.sql', '', '')");

        Assert.Contains("newer than this setupaudit", (await Assert.ThrowsAsync<StoreException>(temp.OpenAsync)).Message, StringComparison.Ordinal);
        Assert.Contains("newer than this setupaudit", (await Assert.ThrowsAsync<StoreException>(temp.OpenReaderAsync)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_of_another_program_is_left_alone()
    {
        using var temp = new TempStore();
        Directory.CreateDirectory(temp.Folder);
        await File.WriteAllBytesAsync(Path.Combine(temp.Folder, "audit.db"), [], Token);
        temp.Run("CREATE TABLE customers (name TEXT)");

        Assert.Contains("not a store of setupaudit", (await Assert.ThrowsAsync<StoreException>(temp.OpenAsync)).Message, StringComparison.Ordinal);
        Assert.Equal(1L, temp.Ask("SELECT COUNT(*) FROM sqlite_schema WHERE type = 'table'"));
    }

    [Fact]
    public async Task A_migration_that_fails_leaves_the_tables_as_they_were()
    {
        using var temp = new TempStore();
        Directory.CreateDirectory(temp.Folder);
        var own = MigrationSet.Own;
        await using var connection = await SqliteDatabase.OpenWriterAsync(temp.Folder, Token);
        await own.ApplyAsync(connection, temp.Folder, Monday, Token);
        var tables = temp.Ask("SELECT COUNT(*) FROM sqlite_schema");
        var broken = new MigrationSet([.. OwnFiles(), ("9999-broken.sql", "CREATE TABLE half (x TEXT); CREATE TABLE half (x TEXT);")]);

        await Assert.ThrowsAnyAsync<Microsoft.Data.Sqlite.SqliteException>(
            () => broken.ApplyAsync(connection, temp.Folder, Monday, Token));
        Assert.Equal(tables, temp.Ask("SELECT COUNT(*) FROM sqlite_schema"));
    }

    [Fact]
    public async Task A_later_migration_is_applied_once_and_an_edited_one_is_refused()
    {
        using var temp = new TempStore();
        Directory.CreateDirectory(temp.Folder);
        await using var connection = await SqliteDatabase.OpenWriterAsync(temp.Folder, Token);
        var two = new MigrationSet([.. OwnFiles(), ("9999-later.sql", "CREATE TABLE later (x TEXT)")]);
        await MigrationSet.Own.ApplyAsync(connection, temp.Folder, Monday, Token);
        await Assert.ThrowsAsync<StoreException>(() => two.RequireAsync(connection, temp.Folder, Token));
        await two.ApplyAsync(connection, temp.Folder, Monday, Token);
        await two.ApplyAsync(connection, temp.Folder, Monday, Token);
        await two.RequireAsync(connection, temp.Folder, Token);

        var edited = new MigrationSet([.. OwnFiles(), ("9999-later.sql", "CREATE TABLE later (y TEXT)")]);
        var fault = await Assert.ThrowsAsync<StoreException>(() => edited.ApplyAsync(connection, temp.Folder, Monday, Token));
        Assert.Contains("9999-later.sql", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("3.51.2", false)]
    [InlineData("3.40.1", false)]
    [InlineData("3.51.3", true)]
    [InlineData("3.53.3", true)]
    public void A_sqlite_library_that_can_damage_the_log_is_refused(string version, bool taken)
    {
        var fault = Record.Exception(() => SqliteDatabase.RequireVersion(version));
        Assert.Equal(taken, fault is null);
        if (!taken) Assert.Contains(version, fault?.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_settings_that_keep_a_record_whole_are_in_force()
    {
        using var temp = new TempStore();
        Directory.CreateDirectory(temp.Folder);
        await using var connection = await SqliteDatabase.OpenWriterAsync(temp.Folder, Token);
        Assert.Equal(("wal", 2L, 1L, 1L), (Ask("journal_mode"), Ask("synchronous"), Ask("foreign_keys"), Ask("recursive_triggers")));

        object? Ask(string name)
        {
            using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA " + name;
            return command.ExecuteScalar();
        }
    }

    [Fact]
    public async Task No_row_can_point_to_bytes_that_are_not_kept()
    {
        using var temp = new TempStore();
        await using (var store = await temp.OpenAsync()) await store.TakeInAsync(Batch(Dump("a")), Token);
        Assert.Equal(0L, temp.Ask("SELECT COUNT(*) FROM pragma_foreign_key_check"));
        var fault = Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => temp.Run("""
            INSERT INTO arrival (id, machine, source, file, sha256, blob, size_bytes, modified_utc, moment_utc, received_utc,
                offset_bytes, first_line)
            VALUES ('x', 'm', 0, 'f', 'h', 'not kept', 0, '', '', '', 0, 1)
            """));
        Assert.Contains("FOREIGN KEY", fault.Message, StringComparison.Ordinal);
    }

    private static IReadOnlyList<(string Name, string Text)> OwnFiles()
    {
        const string folder = "SetupAudit.Store.Migrations.";
        var assembly = typeof(EvidenceFolder).Assembly;
        return
        [
            .. assembly.GetManifestResourceNames().Where(name => name.StartsWith(folder, StringComparison.Ordinal))
                .Select(name =>
                {
                    using var reader = new StreamReader(assembly.GetManifestResourceStream(name) ?? Stream.Null);
                    return (name[folder.Length..], reader.ReadToEnd());
                }),
        ];
    }
}
