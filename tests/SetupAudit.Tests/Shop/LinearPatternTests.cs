namespace SetupAudit.Shop;

public sealed class LinearPatternTests
{
    [Theory]
    [InlineData("^(?<time>[-0-9]+ [:0-9]+) CYCLE START (?<program>O\\d+)")]
    [InlineData("(?i)size (?<size>\\S+?)$")]
    public void A_plain_pattern_is_good(string pattern) => Assert.Null(LinearPattern.Fault(pattern));

    [Theory]
    [InlineData("(a", "is no regular expression: at its character 2, Not enough )'s.")]
    [InlineData("a**", "is no regular expression: at its character 3, Nested quantifier '*'.")]
    public void What_is_no_pattern_is_told_with_its_place(string pattern, string fault) =>
        Assert.Equal(fault, LinearPattern.Fault(pattern));

    [Theory]
    [InlineData("(?=a)b")]
    [InlineData("(?<!a)b")]
    [InlineData("(a)\\1")]
    [InlineData("(?>a+)b")]
    public void What_cannot_run_in_linear_time_is_told_so(string pattern) => Assert.Equal(
        "cannot be matched in linear time; leave out look-arounds, back-references, atomic groups, conditions and very "
            + "large counts",
        LinearPattern.Fault(pattern));

    [Fact]
    public void A_pattern_made_to_run_away_does_not() =>
        Assert.DoesNotMatch(LinearPattern.Create("^(a+)+$"), new string('a', 100_000) + "b");
}
