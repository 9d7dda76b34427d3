using Microsoft.Data.Sqlite;
using SetupAudit.Store.Retention;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class AppendOnlyTests
{
    public static TheoryData<string, string> Tables => new()
    {
        { "migration", "number" },
        { "start", "seq" },
        { "blob", "sha256" },
        { "arrival", "seq" },
        { "arrival", "id" },
        { "horizon", "seq" },
        { "source_gap", "seq" },
        { "batch", "seq" },
        { "derived", "seq" },
        { "person", "id" },
        { "sign_in", "id" },
        { "review", "id" },
        { "pruning", "id" },
        { "pruned_line", "seq" },
        { "dropped", "seq" },
        { "placed", "seq" },
    };

    [Theory]
    [MemberData(nameof(Tables))]
    public async Task A_row_of_the_record_is_never_changed_removed_or_replaced(string table, string key)
    {
        using var temp = new TempStore();
        await FillAsync(temp);
        var before = temp.Ask(Everything(table));

        foreach (var act in new[]
        {
            $"UPDATE {table} SET {key} = {key}",
            $"DELETE FROM {table}",
            $"INSERT OR REPLACE INTO {table} SELECT * FROM {table}",
            $"REPLACE INTO {table} SELECT * FROM {table} LIMIT 1",
            $"INSERT INTO {table} SELECT * FROM {table} WHERE true ON CONFLICT DO UPDATE SET {key} = {key}",
        })
            Assert.Contains("append-only", Assert.Throws<SqliteException>(() => temp.Run(act)).Message, StringComparison.Ordinal);

        Assert.Equal(before, temp.Ask(Everything(table)));
    }

    [Fact]
    public async Task Every_table_that_is_not_scratch_is_guarded()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();

        const string unguarded = """
            SELECT COUNT(*) FROM sqlite_schema t
            WHERE t.type = 'table' AND t.name NOT LIKE 'sqlite%' AND t.name NOT LIKE 'scratch%'
                AND (SELECT COUNT(*) FROM sqlite_schema g WHERE g.type = 'trigger' AND g.tbl_name = t.name) < 3
            """;
        Assert.Equal(0L, temp.Ask(unguarded));
    }

    [Fact]
    public async Task A_horizon_that_would_go_back_is_refused_by_the_table_itself()
    {
        using var temp = new TempStore();
        await FillAsync(temp);

        var fault = Assert.Throws<SqliteException>(() => temp.Run(
            "INSERT INTO horizon (machine, at_utc, recorded_utc) VALUES ('mill-3', '2026-03-02T06:00:00.0000000Z', '')"));
        Assert.Contains("only grows", fault.Message, StringComparison.Ordinal);
    }

    private static async Task FillAsync(TempStore temp)
    {
        await using var store = await temp.OpenAsync();
        await store.RecordStartAsync(new StartRecord(Monday, "once", "1.0", "aa"), Token);
        await store.TakeInAsync(Batch(Dump("one"), Dump("two", 1)), Token);
        await store.PutGapAsync("mill-3", new SourceGap(1, Monday), isOver: false, Token);
        await store.PutPeopleAsync(PeopleBatches.One(), Token);
        await store.ReplaceDerivedAsync(new DerivedBatch
        {
            Machine = "mill-3",
            ScopeFromUtc = Monday,
            Rows = [new DerivedRow { Kind = DerivedKind.Setup, Id = "a", ScopeUtc = Monday, AtUtc = Monday, Body = "{}" }],
            WithdrawnBecause = "it no longer holds",
            HorizonUtc = Monday,
        }, Token);
        await store.PruneAsync(Drops.Of([Hash(Bytes("one"))]), Token);
    }

    private static string Everything(string table) => $"SELECT group_concat(line) FROM (SELECT {Columns(table)} AS line FROM {table})";

    private static string Columns(string table) => table switch
    {
        "migration" => "number || name || sha256 || applied_utc",
        "start" => "seq || at_utc || command || program_version || configuration_sha256",
        "blob" => "rowid || sha256 || size_bytes || segment || position || stored_bytes",
        "arrival" => "seq || id || machine || source || file || sha256 || received_utc",
        "horizon" => "seq || machine || at_utc || recorded_utc",
        "source_gap" => "seq || machine || source || read_until_utc || over || recorded_utc",
        "batch" => "seq || recorded_utc",
        "person" => "seq || id || at_utc || person || name || role || locked || salt || check_key || why",
        "sign_in" => "seq || id || at_utc || person || outcome || purpose",
        "review" => "seq || id || at_utc || machine || setup || opened_utc || body",
        "pruning" => "seq || id || at_utc || before_utc || files || reason || signatures",
        "pruned_line" => "seq || pruning || machine || from_utc || floor_utc || arrivals || state",
        "dropped" => "seq || sha256 || segment || position || pruning",
        "placed" => "seq || sha256 || segment || position || stored_bytes",
        _ => "seq || machine || kind || id || scope_utc || at_utc || body || batch",
    };
}
