using SetupAudit.Support;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

public sealed class LostServerTests
{
    [Fact]
    public async Task A_session_that_was_ended_while_it_was_idle_is_temporary_and_the_store_opens_again()
    {
        using var store = await PostgresStore.MadeAsync();
        await using (var open = await store.OpenAsync())
        {
            store.Run("SELECT pg_terminate_backend(pid, 5000) FROM pg_locks WHERE locktype = 'advisory' "
                + "AND database = (SELECT oid FROM pg_database WHERE datname = current_database())");
            var fault = await Assert.ThrowsAsync<StoreException>(() => open.TakeInAsync(Batch(Dump("one more", 900)), Token));
            Assert.Equal(StoreFaultKind.Temporary, fault.Kind);
            Assert.StartsWith("Writing to the store failed: ", fault.Message, StringComparison.Ordinal);
            Assert.DoesNotContain('\n', fault.Message);
            fault = await Assert.ThrowsAsync<StoreException>(() => open.TakeInAsync(Batch(Dump("one more", 900)), Token));
            Assert.Equal(StoreFaultKind.Temporary, fault.Kind);
        }
        await using (var again = await store.OpenAsync())
            Assert.Single(await again.TakeInAsync(Batch(Dump("one more", 900)), Token));
        Assert.Empty((await store.CheckAsync()).Faults);
    }

    [Fact]
    public async Task A_session_that_is_ended_in_the_middle_of_a_write_leaves_nothing_of_it()
    {
        using var store = await PostgresStore.MadeAsync();
        var before = store.Ask("SELECT COUNT(*) FROM arrival");
        await using (var open = await store.OpenAsync())
        {
            open.OnStep = step =>
            {
                if (step == StoreStep.RowsWritten)
                    store.Run("SELECT pg_terminate_backend(pid, 5000) FROM pg_locks WHERE locktype = 'advisory' "
                        + "AND database = (SELECT oid FROM pg_database WHERE datname = current_database())");
            };
            var fault = await Assert.ThrowsAsync<StoreException>(() => open.TakeInAsync(Batch(Dump("one more", 900)), Token));
            Assert.Equal(StoreFaultKind.Temporary, fault.Kind);
        }
        Assert.Equal(before, store.Ask("SELECT COUNT(*) FROM arrival"));
        await store.GoOnAsync(from: 3);
        Assert.Empty((await store.CheckAsync()).Faults);
    }

    [Fact]
    public async Task A_right_that_was_taken_away_is_final()
    {
        using var store = await PostgresStore.MadeAsync();
        store.Run("DROP ROLE IF EXISTS narrowed; CREATE ROLE narrowed LOGIN; GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO narrowed; REVOKE INSERT ON arrival FROM narrowed");
        await using (var open = await AuditStore.OpenAsync(
            store.Place with { Postgres = store.Text.Replace("Username=test", "Username=narrowed", StringComparison.Ordinal) },
            new RecordOptions { Shop = "Harrow Lane Works" }, TimeProvider.System, Token))
        {
            var fault = await Assert.ThrowsAsync<StoreException>(() => open.TakeInAsync(Batch(Dump("one more", 900)), Token));
            Assert.Equal(StoreFaultKind.Final, fault.Kind);
            Assert.Contains("permission denied for table arrival", fault.Message, StringComparison.Ordinal);
        }
        store.Run("DROP OWNED BY narrowed; DROP ROLE narrowed");
    }

    [Fact]
    public async Task A_server_that_could_lose_what_it_says_it_keeps_is_refused()
    {
        PostgresServer.Skip();
        using var server = new PostgresServer();
        var text = server.NewDatabase();
        server.StopNow();
        server.Start("fsync=off");
        using var store = new PostgresStore(text);
        var fault = await Assert.ThrowsAsync<StoreException>(store.OpenAsync);
        Assert.Equal(StoreFaultKind.Final, fault.Kind);
        Assert.EndsWith("Set fsync=on.", fault.Message, StringComparison.Ordinal);
    }
}
