using CsCheck;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class DerivedTests
{
    private const string Because = "a later dump shows another value";

    [Fact]
    public async Task What_is_new_is_raised_what_differs_is_changed_and_what_is_gone_is_withdrawn_with_its_reason()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        Assert.Equal([Step(DerivedStep.Raised, "a", null, "1"), Step(DerivedStep.Raised, "b", null, "1"), Step(DerivedStep.Raised, "c", null, "1")],
            await ReplaceAsync(store, Row("a", "1"), Row("b", "1"), Row("c", "1")));
        Assert.Equal([Step(DerivedStep.Changed, "b", "1", "2"), Step(DerivedStep.Withdrawn, "c", "1", null)],
            await ReplaceAsync(store, Row("a", "1"), Row("b", "2")));
        Assert.Empty(await ReplaceAsync(store, Row("b", "2"), Row("a", "1")));

        Assert.Equal([("a", "1", null), ("b", "2", null)], await ListAsync(store));
        Assert.Equal([("a", "1", null), ("b", "2", null), ("c", "1", Because)], await ListAsync(store, withdrawn: true));
        Assert.Equal([Step(DerivedStep.RaisedAgain, "c", "1", "3")], await ReplaceAsync(store, Row("a", "1"), Row("b", "2"), Row("c", "3")));
        Assert.Equal([("a", "1", null), ("b", "2", null), ("c", "3", null)], await ListAsync(store, withdrawn: true));
        Assert.Equal(6L, temp.Ask("SELECT COUNT(*) FROM derived"));
        Assert.Equal(3L, temp.Ask("SELECT COUNT(*) FROM batch"));
    }

    [Fact]
    public async Task A_change_of_moment_setup_or_scope_alone_is_a_change()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await ReplaceAsync(store, Row("a", "1"), Row("b", "1"), Row("c", "1"), Row("d", "1"));
        var changes = await ReplaceAsync(store,
            Row("a", "1") with { AtUtc = Monday.AddTicks(1) }, Row("b", "1") with { Setup = "s" },
            Row("c", "1") with { ScopeUtc = Monday.AddTicks(1) }, Row("d", "1"));

        Assert.Equal(["a", "b", "c"], changes.Select(change => change.Id));
        Assert.All(changes, change => Assert.Equal(DerivedStep.Changed, change.Step));
    }

    [Fact]
    public async Task Rows_of_earlier_scopes_other_machines_and_other_kinds_are_left_alone()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await ReplaceAsync(store, Row("old", "1"), Row("new", "1") with { ScopeUtc = Monday.AddHours(1) });
        await store.ReplaceDerivedAsync(BatchOf(Monday, Row("other", "1")) with { Machine = "mill-4" }, Token);
        await store.ReplaceDerivedAsync(BatchOf(Monday, Row("finding", "1") with { Kind = DerivedKind.Finding }) with
        {
            Kinds = new HashSet<DerivedKind> { DerivedKind.Finding },
        }, Token);

        var changes = await store.ReplaceDerivedAsync(BatchOf(Monday.AddMinutes(30)) with
        {
            Kinds = new HashSet<DerivedKind> { DerivedKind.Setup },
        }, Token);

        Assert.Equal([Step(DerivedStep.Withdrawn, "new", "1", null)], changes);
        Assert.Equal(["old", "other"], (await ListAsync(store)).Select(row => row.Id));
    }

    [Fact]
    public async Task A_row_that_moves_into_the_scope_from_an_earlier_one_is_changed_and_not_raised()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await ReplaceAsync(store, Row("a", "1"));
        var moved = Row("a", "1") with { ScopeUtc = Monday.AddHours(1) };

        Assert.Equal([Step(DerivedStep.Changed, "a", "1", "1")],
            await store.ReplaceDerivedAsync(BatchOf(Monday.AddMinutes(30), moved), Token));
        Assert.Equal([Step(DerivedStep.Withdrawn, "a", "1", null)], await ReplaceAsync(store));
    }

    [Fact]
    public async Task A_row_given_twice_or_before_the_scope_or_of_another_kind_is_a_mistake()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await Assert.ThrowsAsync<ArgumentException>(() => ReplaceAsync(store, Row("a", "1"), Row("a", "2")));
        await Assert.ThrowsAsync<ArgumentException>(() => ReplaceAsync(store, Row("a", "1") with { ScopeUtc = Monday.AddTicks(-1) }));
        await Assert.ThrowsAsync<ArgumentException>(() => store.ReplaceDerivedAsync(BatchOf(Monday, Row("a", "1")) with
        {
            Kinds = new HashSet<DerivedKind> { DerivedKind.Cycle },
        }, Token));
        Assert.Empty(await ListAsync(store));
    }

    [Fact]
    public async Task Ten_thousand_rows_that_say_the_same_append_nothing_and_one_that_differs_appends_one()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var rows = Enumerable.Range(0, 10_000).Select(number => Row($"row-{number:00000}", $"body {number}")).ToArray();
        Assert.Equal(10_000, (await ReplaceAsync(store, rows)).Count);
        Assert.Empty(await ReplaceAsync(store, rows));
        rows[5_000] = rows[5_000] with { Body = "another" };
        Assert.Equal([Step(DerivedStep.Changed, "row-05000", "body 5000", "another")], await ReplaceAsync(store, rows));

        Assert.Equal(10_001L, temp.Ask("SELECT COUNT(*) FROM derived"));
        Assert.Equal(rows.Select(row => (row.Id, row.Body, (string?)null)), await ListAsync(store));
    }

    [Fact]
    public async Task An_arrivals_own_row_is_appended_once_and_again_only_when_it_says_something_else()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        var read = new ReadBatch
        {
            Machine = "mill-3",
            Arrivals = [],
            Rows = [Row("a", "read") with { Kind = DerivedKind.Arrival }],
        };
        await store.PutReadAsync(read, Token);
        await store.PutReadAsync(read, Token);
        Assert.Equal(1L, temp.Ask("SELECT COUNT(*) FROM derived"));

        await store.PutReadAsync(read with { Rows = [Row("a", "partial") with { Kind = DerivedKind.Arrival }] }, Token);
        Assert.Equal("partial", Assert.Single(await AllAsync(store.Reader.DerivedAsync(
            new DerivedQuery { Kind = DerivedKind.Arrival }, Token))).Body);
    }

    [Fact]
    public async Task Lists_are_cut_by_machine_moment_and_setup_and_ordered_by_moment_and_id()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await ReplaceAsync(store,
            Row("b", "1") with { AtUtc = Monday.AddHours(1) }, Row("a", "1") with { AtUtc = Monday.AddHours(1), Setup = "s1" },
            Row("c", "1") with { Setup = "s1" }, Row("d", "1") with { AtUtc = Monday.AddHours(2), Setup = "s2" });
        await store.ReplaceDerivedAsync(BatchOf(Monday, Row("x", "1")) with { Machine = "mill-4" }, Token);

        Assert.Equal(["c", "x", "a", "b", "d"], await IdsAsync(new() { Kind = DerivedKind.Setup }));
        Assert.Equal(["c", "a", "b", "d"], await IdsAsync(new() { Kind = DerivedKind.Setup, Machine = "mill-3" }));
        Assert.Equal(["a", "b", "d"], await IdsAsync(new() { Kind = DerivedKind.Setup, SinceUtc = Monday.AddHours(1) }));
        Assert.Equal(["c", "x", "a", "b"], await IdsAsync(new() { Kind = DerivedKind.Setup, UntilUtc = Monday.AddHours(1) }));
        Assert.Equal(["c", "a"], await IdsAsync(new() { Kind = DerivedKind.Setup, Setup = "s1" }));
        Assert.Equal(["a"], await IdsAsync(new() { Kind = DerivedKind.Setup, Setup = "s1", SinceUtc = Monday.AddMinutes(1) }));
        Assert.Empty(await IdsAsync(new() { Kind = DerivedKind.Cycle }));

        async Task<IEnumerable<string>> IdsAsync(DerivedQuery query) =>
            (await AllAsync(store.Reader.DerivedAsync(query, Token))).Select(row => row.Id);
    }

    [Fact]
    public async Task A_beginning_finds_what_holds_and_says_when_it_is_not_unique()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        await ReplaceAsync(store, Row("mill-3@20260302-071000", "1"), Row("mill-3@20260302-090000", "1"), Row("mill-30@x", "1"), Row("gone", "1"));
        await ReplaceAsync(store, Row("mill-3@20260302-071000", "1"), Row("mill-3@20260302-090000", "1"), Row("mill-30@x", "1"));

        Assert.Equal("mill-3@20260302-071000", Assert.Single(await store.Reader.BeginningAsync(DerivedKind.Setup, "mill-3@20260302-07", 2, Token)).Id);
        Assert.Equal(2, (await store.Reader.BeginningAsync(DerivedKind.Setup, "mill-3", 2, Token)).Count);
        Assert.Empty(await store.Reader.BeginningAsync(DerivedKind.Setup, "gone", 2, Token));
        Assert.Empty(await store.Reader.BeginningAsync(DerivedKind.Setup, "mill_3", 2, Token));
    }

    [Fact]
    public async Task A_horizon_grows_with_the_rows_that_rest_on_it_and_never_goes_back()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        Assert.Null(await store.Reader.HorizonAsync("mill-3", Token));
        await store.ReplaceDerivedAsync(BatchOf(Monday) with { HorizonUtc = Monday.AddHours(1) }, Token);
        await store.GrowHorizonAsync("mill-3", Monday, Token);
        await store.GrowHorizonAsync("mill-4", Monday, Token);

        Assert.Equal(Monday.AddHours(1), await store.Reader.HorizonAsync("mill-3", Token));
        Assert.Equal(Monday, await store.Reader.HorizonAsync("mill-4", Token));
        Assert.Equal(2L, temp.Ask("SELECT COUNT(*) FROM horizon"));
    }

    [Fact]
    public async Task A_start_and_what_the_rows_are_for_are_told_apart()
    {
        using var temp = new TempStore();
        await using var store = await temp.OpenAsync();
        Assert.Null(await store.Reader.LatestStartAsync(Token));
        await store.RecordStartAsync(new StartRecord(Monday, "once", "1.0", "aa"), Token);
        await store.RecordStartAsync(new StartRecord(Monday.AddHours(1), "run", "1.1", "bb"), Token);
        await store.MarkDerivedForAsync("mill-3", "aa", "1.0", Token);

        Assert.Equal(new StartRecord(Monday.AddHours(1), "run", "1.1", "bb"), await store.Reader.LatestStartAsync(Token));
        Assert.True(await store.Reader.IsDerivedForAsync("mill-3", "aa", "1.0", Token));
        Assert.False(await store.Reader.IsDerivedForAsync("mill-3", "bb", "1.1", Token));
        await store.MarkDerivedForAsync("mill-3", "bb", "1.1", Token);
        Assert.False(await store.Reader.IsDerivedForAsync("mill-3", "aa", "1.0", Token));
    }

    // Whatever was replaced before, in whichever scopes, across restarts: what is listed is what was given last.
    [Fact]
    public async Task What_is_listed_is_what_was_given_last_whatever_came_before()
    {
        var row = Gen.Select(Gen.Int[0, 5], Gen.Int[0, 3], Gen.Int[0, 2], (id, scope, body) => (id, scope, body));
        var act = Gen.Select(Gen.Int[0, 3], Gen.Int[1, 5], row.Array[0, 6], Gen.Bool,
            (from, before, rows, restart) => (from, before, rows, restart));
        await act.Array[1, 8].SampleAsync(async acts =>
        {
            using var temp = new TempStore();
            var expected = new Dictionary<string, DerivedRow>(StringComparer.Ordinal);
            var store = await temp.OpenAsync();
            foreach (var (from, length, rows, restart) in acts)
            {
                if (restart)
                {
                    await store.DisposeAsync();
                    store = await temp.OpenAsync();
                }
                var fromUtc = Monday.AddHours(from);
                DateTimeOffset? beforeUtc = length == 5 ? null : fromUtc.AddHours(length);
                var given = rows.Where(item => item.scope >= from && !(Monday.AddHours(item.scope) >= beforeUtc)).DistinctBy(item => item.id)
                    .Select(item => Row($"id-{item.id}", $"{item.body}") with { ScopeUtc = Monday.AddHours(item.scope) }).ToArray();
                await store.ReplaceDerivedAsync(BatchOf(fromUtc, given) with { ScopeBeforeUtc = beforeUtc }, Token);
                foreach (var gone in expected.Values
                    .Where(old => old.ScopeUtc >= fromUtc && !(old.ScopeUtc >= beforeUtc)).ToList())
                    expected.Remove(gone.Id);
                foreach (var item in given) expected[item.Id] = item;
            }
            var listed = await AllAsync(store.Reader.DerivedAsync(new DerivedQuery { Kind = DerivedKind.Setup }, Token));
            await store.DisposeAsync();
            Assert.Equal(expected.Values.OrderBy(item => item.Id, StringComparer.Ordinal).Select(item => (item.Id, item.Body, item.ScopeUtc)),
                listed.Select(item => (item.Id, item.Body, item.ScopeUtc)));
        }, iter: 40, threads: 1);
    }

    private static DerivedRow Row(string id, string body) => new()
    {
        Kind = DerivedKind.Setup,
        Id = id,
        ScopeUtc = Monday,
        AtUtc = Monday,
        Body = body,
    };

    private static DerivedBatch BatchOf(DateTimeOffset fromUtc, params DerivedRow[] rows) => new()
    {
        Machine = "mill-3",
        ScopeFromUtc = fromUtc,
        Rows = rows,
        WithdrawnBecause = Because,
    };

    private static Task<IReadOnlyList<DerivedChange>> ReplaceAsync(AuditStore store, params DerivedRow[] rows) =>
        store.ReplaceDerivedAsync(BatchOf(Monday, rows), Token);

    private static DerivedChange Step(DerivedStep step, string id, string? former, string? body) =>
        new(DerivedKind.Setup, id, step, former, body);

    private static async Task<List<(string Id, string Body, string? Withdrawn)>> ListAsync(AuditStore store, bool withdrawn = false) =>
        (await AllAsync(store.Reader.DerivedAsync(new DerivedQuery { Kind = DerivedKind.Setup, Withdrawn = withdrawn }, Token)))
            .ConvertAll(row => (row.Id, row.Body, row.Withdrawn));
}
