using Npgsql;

namespace SetupAudit.Store.Postgres;

public sealed class GuardTests
{
    [Fact]
    public async Task No_row_of_a_lasting_table_is_changed_or_removed_even_by_who_owns_it()
    {
        using var store = await PostgresStore.MadeAsync();
        foreach (var table in PostgresStore.Lasting)
        {
            var column = Column(store, table);
            foreach (var act in new[]
            {
                $"UPDATE {table} SET {column} = {column}",
                $"DELETE FROM {table}",
                $"TRUNCATE {table} CASCADE",
                $"SET session_replication_role = replica; DELETE FROM {table}",
            })
            {
                var fault = Assert.Throws<PostgresException>(() => store.Run(act));
                Assert.EndsWith("is append-only", fault.MessageText, StringComparison.Ordinal);
            }
        }
        Assert.Empty((await store.CheckAsync()).Faults);
    }

    [Fact]
    public async Task An_insert_that_would_replace_a_row_is_refused()
    {
        using var store = await PostgresStore.MadeAsync();
        var fault = Assert.Throws<PostgresException>(() => store.Run(
            "INSERT INTO checkpoint SELECT * FROM checkpoint ON CONFLICT (size) DO UPDATE SET signed = ''"));
        Assert.Equal("checkpoint is append-only", fault.MessageText);
        Assert.Equal(PostgresErrorCodes.UniqueViolation,
            Assert.Throws<PostgresException>(() => store.Run("INSERT INTO checkpoint SELECT * FROM checkpoint")).SqlState);
    }

    [Fact]
    public async Task A_horizon_that_would_go_back_is_refused_by_the_table_itself()
    {
        using var store = await PostgresStore.MadeAsync();
        var fault = Assert.Throws<PostgresException>(() => store.Run(
            "INSERT INTO horizon (machine, at_utc, recorded_utc) VALUES ('mill-3', '2026-03-02T06:00:00.0000000Z', '')"));
        Assert.Contains("only grows", fault.MessageText, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_role_of_the_service_takes_in_and_can_alter_nothing_that_lasts()
    {
        using var store = new PostgresStore(await Roles.ServiceAsync());
        await Assert.ThrowsAsync<StoreException>(store.OpenAsync);
        await Roles.BuildAsync(store);
        await store.GoOnAsync();
        await store.GoOnAsync(from: 3);
        foreach (var table in PostgresStore.Lasting)
            foreach (var act in new[]
            {
                $"UPDATE {table} SET {Column(store, table)} = {Column(store, table)}", $"DELETE FROM {table}",
                $"TRUNCATE {table}", $"ALTER TABLE {table} DISABLE TRIGGER {table}_guard", $"DROP TABLE {table}",
            })
                Assert.Equal(PostgresErrorCodes.InsufficientPrivilege,
                    Assert.Throws<PostgresException>(() => store.Run(act)).SqlState);
        Assert.Throws<PostgresException>(() => store.Run("CREATE TABLE more (x bigint)"));
        var check = await store.CheckAsync();
        Assert.Empty(check.Faults);
        Assert.Empty(check.Remarks);
    }

    [Fact]
    public async Task A_role_that_may_alter_rows_is_told_by_verify()
    {
        using var store = await PostgresStore.MadeAsync();
        Assert.StartsWith("The role that reads here may also alter rows",
            Assert.Single((await store.CheckAsync()).Remarks), StringComparison.Ordinal);
    }

    private static object Column(PostgresStore store, string table) => store.Ask(
        $"SELECT column_name::text FROM information_schema.columns WHERE table_name = '{table}' AND is_identity = 'NO' LIMIT 1");
}
