using SetupAudit.Shop;
using SetupAudit.Store.Records;
using SetupAudit.Store.Verifying;
using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

public sealed class PostgresOpeningTests
{
    [Theory]
    [InlineData("Host=db;Database=x;Password=secret-1", "holds a password")]
    [InlineData("Host=db;Database=x;SSL Password=secret-1", "holds a password")]
    [InlineData("Host=db;Database=x;Colour=secret-1", "is not written as a connection text is")]
    [InlineData("secret-1", "is not written as a connection text is")]
    [InlineData("Host=db;Database=x;Port=secret-1", "is not written as a connection text is")]
    [InlineData("Database=x", "names no server")]
    [InlineData("Host=db", "names no database")]
    [InlineData("Host=db,other;Database=x", "names several servers")]
    [InlineData("Host=db;Database=x;Passfile=secret-1", "no full path")]
    public async Task A_text_that_cannot_be_used_is_refused_and_not_repeated(string text, string says)
    {
        using var share = new TempShare();
        var fault = await OpenFailsAsync(share["store"], text);
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.Contains(says, fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("secret-1", fault.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_that_is_not_there_is_final_and_a_server_that_is_not_is_temporary()
    {
        using var share = new TempShare();
        var none = await OpenFailsAsync(share["store"], PostgresServer.Shared.Text("no_such"));
        Assert.Equal((StoreFaultKind.Final, "The server does not have the database 'no_such' on 127.0.0.1. docs/operations.md says how it is made."),
            (none.Kind, none.Message));
        var away = await OpenFailsAsync(share["store"], "Host=127.0.0.1;Port=1;Database=audit;Username=test");
        Assert.Equal(StoreFaultKind.Temporary, away.Kind);
        Assert.StartsWith("The database 'audit' on 127.0.0.1 cannot be reached: ", away.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', away.Message);
    }

    [Fact]
    public async Task A_password_is_asked_for_and_a_wrong_one_refused()
    {
        var text = PostgresServer.Shared.NewDatabase();
        PostgresServer.Run(text, "CREATE ROLE guarded LOGIN PASSWORD 'made up'");
        PostgresServer.Shared.Allow("host all guarded 127.0.0.1/32 scram-sha-256");
        var guarded = text.Replace("Username=test", "Username=guarded", StringComparison.Ordinal);
        using var share = new TempShare();

        var none = await OpenFailsAsync(share["store"], guarded);
        Assert.Equal(StoreFaultKind.Final, none.Kind);
        Assert.StartsWith("The server asks for the password of the role 'guarded'", none.Message, StringComparison.Ordinal);

        var file = share.Write("passfile", "*:*:*:guarded:not this one\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(file, UnixFileMode.UserRead);
        var wrong = await OpenFailsAsync(share["store"], $"{guarded};Passfile={file}");
        Assert.Equal(StoreFaultKind.Final, wrong.Kind);
        Assert.StartsWith("The server refuses the role 'guarded'", wrong.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("not this one", wrong.ToString(), StringComparison.Ordinal);

        File.Delete(file);
        share.Write("passfile", "*:*:*:guarded:made up\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(file, UnixFileMode.UserRead);
        var right = await OpenFailsAsync(share["store"], $"{guarded};Passfile={file}");
        Assert.Contains("'setupaudit tables --config FILE' prints", right.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_that_would_not_keep_texts_as_they_are_is_refused()
    {
        using var store = new PostgresStore(PostgresServer.Shared.NewDatabase("ENCODING 'SQL_ASCII' LC_COLLATE 'C' LC_CTYPE 'C' TEMPLATE template0"));
        var fault = await Assert.ThrowsAsync<StoreException>(store.OpenAsync);
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.Contains("The encoding of the database", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_database_with_other_tables_is_refused()
    {
        using var store = new PostgresStore();
        store.Run("CREATE TABLE invoices (x bigint)");
        var fault = await Assert.ThrowsAsync<StoreException>(store.OpenAsync);
        Assert.Contains("it holds other tables", fault.Message, StringComparison.Ordinal);
        Assert.Equal(["invoices"], store.Rows("SELECT tablename::text FROM pg_tables WHERE schemaname = 'public'"));
    }

    [Fact]
    public async Task A_store_that_was_never_begun_is_told_to_readers()
    {
        using var store = new PostgresStore();
        var fault = await Assert.ThrowsAsync<StoreException>(() => StoreReader.OpenAsync(store.Place, Token));
        Assert.EndsWith("The commands 'once' and 'run' begin one.", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_session_waits_for_the_disk_whatever_its_role_was_set_to()
    {
        using var store = new PostgresStore();
        var name = store.Ask("SELECT current_database()::text");
        store.Run($"ALTER DATABASE {name} SET synchronous_commit = off");
        await using var writer = await StoreDatabase.Of(store.Place).OpenWriterAsync(Token);
        using var command = writer.CreateCommand();
        command.CommandText = "SHOW synchronous_commit";
        Assert.Equal("on", command.ExecuteScalar());
    }

    [Fact]
    public async Task A_reader_cannot_write()
    {
        using var store = await PostgresStore.MadeAsync();
        await using var reader = await StoreDatabase.Of(store.Place).OpenReaderAsync(Token);
        using var command = reader.CreateCommand();
        command.CommandText = "DELETE FROM scratch_kept";
        Assert.Contains("read-only", Assert.ThrowsAny<System.Data.Common.DbException>(() => command.ExecuteNonQuery()).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_folders_cannot_write_one_database()
    {
        using var store = await PostgresStore.MadeAsync();
        await using var open = await store.OpenAsync();
        RecordedStore.Copy(store.Folder, store["other"]);
        var fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(store["other"], store.Text));
        Assert.True(fault.IsHeld);
        Assert.Contains("with a folder of its own", fault.Message, StringComparison.Ordinal);
        await RecordedStore.FillAsync(open, 3);
    }

    [Fact]
    public async Task A_session_of_this_process_that_the_server_has_not_missed_is_ended()
    {
        using var store = await PostgresStore.MadeAsync();
        using var lost = new Npgsql.NpgsqlConnection($"{store.Text};Pooling=false;Application Name={PostgresLock.SessionName(null)}");
        await lost.OpenAsync(Token);
        using var hold = new Npgsql.NpgsqlCommand($"SELECT pg_advisory_lock({PostgresLock.Key}, hashtext(current_schema()::text))", lost);
        await hold.ExecuteNonQueryAsync(Token);
        await store.GoOnAsync(from: 3);
        Assert.Empty((await store.CheckAsync()).Faults);
    }

    [Fact]
    public async Task A_database_beside_a_new_folder_is_refused()
    {
        using var store = await PostgresStore.MadeAsync();
        var fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(store["other"], store.Text));
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.Contains("it is another store's folder, a new one or an older copy", fault.Message, StringComparison.Ordinal);
        Assert.False(Directory.Exists(store["other/evidence"]));
    }

    [Fact]
    public async Task A_database_beside_an_older_copy_of_its_folder_is_refused()
    {
        using var store = await PostgresStore.MadeAsync();
        RecordedStore.Copy(store.Folder, store["other"]);
        await store.GoOnAsync(from: 3);
        var before = store.Ask("SELECT COUNT(*) FROM entry");
        var fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(store["other"], store.Text));
        Assert.Contains("it is another store's folder, a new one or an older copy", fault.Message, StringComparison.Ordinal);
        Assert.Equal(before, store.Ask("SELECT COUNT(*) FROM entry"));
    }

    [Fact]
    public async Task A_folder_beside_another_stores_database_is_refused()
    {
        using var store = await PostgresStore.MadeAsync();
        using var other = new PostgresStore();
        await other.GoOnAsync();
        var fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(store.Folder, other.Text));
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        using var empty = new PostgresStore();
        fault = await Assert.ThrowsAsync<StoreException>(() => OpenAsync(store.Folder, empty.Text));
        Assert.Contains("holds checkpoints of a record that is not in the database", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_crash_between_the_rows_and_their_checkpoint_in_the_folder_is_gone_on_from()
    {
        using var store = await PostgresStore.MadeAsync();
        File.Delete(Path.Combine(store.Folder, AnchorFile.FileName));
        await store.GoOnAsync(from: 3);
        Assert.Empty((await store.CheckAsync()).Faults);
    }

    private static Task<AuditStore> OpenAsync(string folder, string text) => AuditStore.OpenAsync(
        new StoreConfig(folder, text), new RecordOptions { Shop = "Harrow Lane Works" }, TimeProvider.System, Token);

    private static Task<StoreException> OpenFailsAsync(string folder, string text) =>
        Assert.ThrowsAsync<StoreException>(() => OpenAsync(folder, text));
}
