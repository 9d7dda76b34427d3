using SetupAudit.Findings.Support;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class SearchTooLongTests
{
    private const string Rule = "search-too-long";

    private static CaseBuilder Probing(decimal? search, decimal? standoff = null) => new CaseBuilder()
        .Program("O8000", program => program.Parks("G54").Probes("G54", "Z", search, standoff));

    private static CaseBuilder Configured(CaseBuilder builder) =>
        builder.Machine(machine => machine with { Standoff = 6m, Search = 25m });

    [Fact]
    public void A_search_beyond_the_configured_longest_is_found()
    {
        var finding = Assert.Single(Configured(Probing(127m)).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/search-too-long/O8000", finding.Id);
        Assert.Equal((Severity.Low, 127m, 25m, Unit.Millimetre), (finding.Severity, finding.Value, finding.Expected, finding.Unit));
        Assert.Equal(
            "O8000 line 40 searches 127 mm for a surface, longer than the 25 mm that is configured as the longest for this "
            + "machine: with the part missing, the probe body may be hit.", finding.Message);
        Assert.Equal(40, Assert.Single(finding.Evidence).Line);
    }

    [Fact]
    public void The_configured_longest_itself_is_fine() => Assert.Empty(Configured(Probing(25m)).Found(Rule));

    // Common practice, no source: stand 0.25 in above the part and search 1.0 in; 5 in from there is too long.
    [Theory]
    [InlineData("1.0", 0)]
    [InlineData("5.0", 1)]
    public void Without_configuration_common_practice_judges(string search, int findings)
    {
        var inches = decimal.Parse(search, System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(findings, Probing(inches, 0.25m).Inch().Found(Rule).Count);
        Assert.Equal(findings, Probing(inches).Inch().Found(Rule).Count);
        Assert.Equal(findings, Probing(inches * 25.4m).Found(Rule).Count);
    }

    [Fact]
    public void A_start_further_above_warrants_a_longer_search()
    {
        Assert.Empty(Probing(69.05m, 50m).Found(Rule));
        Assert.Contains("the 69.05 mm that a start 50 mm above the surface warrants (19.05 mm past it)",
            Assert.Single(Probing(69.06m, 50m).Found(Rule)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_search_that_the_program_does_not_give_is_not_judged() => Assert.Empty(Configured(Probing(null)).Found(Rule));

    [Fact]
    public void A_search_downwards_is_as_long_as_one_upwards() => Assert.Single(Configured(Probing(-127m)).Found(Rule));

    [Fact]
    public void A_program_is_told_once_with_its_longest_search()
    {
        var finding = Assert.Single(Configured(new CaseBuilder().Program("O8000", program => program.Parks("G54")
            .Probes(search: 30m, line: 10).Probes(search: 90m, line: 20).Probes(search: 20m, line: 30))).Found(Rule));
        Assert.StartsWith("O8000 line 20 searches 90 mm for a surface (2 probing moves of it are too long)", finding.Message,
            StringComparison.Ordinal);
        Assert.Equal([10, 20], finding.Evidence.Select(line => line.Line));
    }
}
