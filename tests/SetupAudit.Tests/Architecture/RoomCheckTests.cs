namespace SetupAudit.Architecture;

public sealed class RoomCheckTests
{
    private const string Root = "SetupAudit.Architecture.Planted";

    private static readonly Room Low = new("Low", [], []);
    private static readonly Room High = new("High", ["Low"], ["FluentValidation"]);
    private static readonly Room Highest = new("Highest", ["High"], []);
    private static readonly Room Stairs = new("Stairs", ["High", "Highest"], []);

    [Fact]
    public void A_type_that_uses_a_room_above_it_is_named() =>
        Assert.Contains(Trespasses(Low, High), said => said.StartsWith($"{Root}.Low.LooksUp is in Low", StringComparison.Ordinal));

    [Fact]
    public void A_dependency_inside_an_async_lambda_is_seen() =>
        Assert.Contains(Trespasses(Low, High), said => said.Contains("LooksUpInsideALambda", StringComparison.Ordinal));

    [Fact]
    public void A_package_outside_its_room_is_seen() =>
        Assert.Contains(Trespasses(Low, High), said => said.Contains("UsesAPackage", StringComparison.Ordinal));

    [Fact]
    public void What_the_table_allows_is_not_named()
    {
        var said = Trespasses(Low, High, Highest, Stairs);
        Assert.Equal(3, said.Count);
        Assert.All(said, sentence => Assert.Contains("is in Low", sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void A_room_whose_name_begins_like_another_is_not_taken_for_it() =>
        Assert.DoesNotContain(
            Trespasses(Low with { MayUse = ["High"], Packages = ["FluentValidation"] }, High, Highest),
            said => said.Contains("is in Low", StringComparison.Ordinal));

    [Fact]
    public void A_room_that_is_one_type_is_held_too() =>
        Assert.Contains(
            Trespasses(High, Highest, Stairs with { MayUse = ["High"] }),
            said => said.StartsWith($"{Root}.Stairs is in Stairs", StringComparison.Ordinal));

    [Fact]
    public void Types_without_a_row_are_named() =>
        Assert.Equal(
            [$"{Root}.Highest.Roof", $"{Root}.Stairs"],
            new RoomCheck(Root, [Low, High], typeof(RoomCheckTests).Assembly).Unlisted().Order());

    private static IReadOnlyList<string> Trespasses(params Room[] rooms) =>
        new RoomCheck(Root, rooms, typeof(RoomCheckTests).Assembly).Trespasses();
}
