using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store.Postgres;

public sealed class PostgresTextTests
{
    [Theory]
    [InlineData("")]
    [InlineData("Höhe 12 µm \U0001F527")]
    [InlineData("a\0b")]
    [InlineData("\0")]
    [InlineData("\u0001")]
    [InlineData("\u0001\u0001\0\u0001\u0002\0")]
    [InlineData("\u0002\u0001")]
    public void A_text_comes_back_as_it_was(string text)
    {
        var column = PostgresText.ToColumn(text);
        Assert.DoesNotContain('\0', column);
        Assert.Equal(text, PostgresText.FromColumn(column));
    }

    [Fact]
    public void Texts_sort_as_they_did()
    {
        string[] sorted = ["", "\0", "\0\0", "\0\u0001", "\0a", "\u0001", "\u0001\0", "\u0001\u0001", "\u0002", "a", "a\0", "a\u0001"];
        Assert.Equal(sorted, sorted.Order(StringComparer.Ordinal));
        Assert.Equal(sorted, sorted.OrderBy(PostgresText.ToColumn, StringComparer.Ordinal));
    }

    [Fact]
    public void Half_a_surrogate_pair_becomes_what_it_becomes_in_sqlite()
    {
        Assert.Equal("a\uFFFDb", PostgresText.ToColumn("a\uD83Db"));
        Assert.Equal("a\uFFFD", PostgresText.ToColumn("a\uDD27"));
        Assert.Equal("\U0001F527", PostgresText.ToColumn("\U0001F527"));
    }

    [Fact]
    public async Task A_name_that_no_database_likes_is_taken_in_found_and_sealed()
    {
        const string file = "offsets/a\0'; DROP TABLE arrival; --\u0001 Höhe.nc";
        using var store = new PostgresStore();
        await using (var open = await store.OpenAsync())
        {
            var taken = Dump("G10 L2 P1 X1.", file: file);
            await open.TakeInAsync(Batch(taken), Token);
            Assert.Empty(await open.TakeInAsync(Batch(taken), Token));
            await open.PutReadAsync(await ReadAllAsync(open), Token);
            var known = Assert.Single(await AllAsync(open.Reader.ArrivalsAsync(null, 0, Token)));
            Assert.Equal(file, known.Arrival.File);
            Assert.Equal(known.Seq, (await open.Reader.ArrivalAsync(taken.Arrival.Id, Token))?.Seq);
            Assert.Equal(file, Assert.Single(await open.Reader.PositionsAsync("mill-3", "offsets", Token)).Name);
            Assert.Equal(file, Assert.Single(await AllAsync(open.Reader.SightingsAsync("mill-3", null, Token))).Position.File);
        }
        Assert.Empty((await store.CheckAsync()).Faults);
    }
}
