using SetupAudit.Shop;

namespace SetupAudit.Findings;

public sealed class UnreadSourceTests
{
    private static readonly DateTimeOffset Nine = new(2026, 3, 2, 9, 0, 0, TimeSpan.Zero);

    private static readonly ShopConfig Shop = new()
    {
        Name = "Harrow Lane Works (made up)",
        TimeZone = "Europe/London",
        Store = new StoreConfig("audit", null),
        Machines = [],
    };

    [Fact]
    public void What_was_found_after_a_source_was_read_last_says_without_which()
    {
        var told = UnreadSource.Tell(
            Found(Nine.AddHours(1)), [new("prints", Nine), new("tables", DateTimeOffset.MinValue)], Shop);

        Assert.Equal("Z of G54 moved. Found without prints (read until 2026-03-02 09:00) and tables, which cannot be "
            + "read now and may tell otherwise.", told.Message);
    }

    [Fact]
    public void What_was_found_while_the_source_could_be_read_stays_as_it_is()
    {
        var found = Found(Nine);

        Assert.Same(found, UnreadSource.Tell(found, [new("prints", Nine)], Shop));
        Assert.Same(found, UnreadSource.Tell(found, [], Shop));
    }

    private static Finding Found(DateTimeOffset atUtc) => new()
    {
        Id = "mill-3@20260302-090000/over-limit/G54.Z",
        Rule = "over-limit",
        Severity = Severity.High,
        Machine = "mill-3",
        Message = "Z of G54 moved.",
        AtUtc = atUtc,
    };
}
