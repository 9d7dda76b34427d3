using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

public sealed class RuleBookTests
{
    private static CaseBuilder Corner() => new CaseBuilder().Held("G54", -410.2m, -205.1m, -318.204m).Program("O2041")
        .Touched("G54.X", "07:13", -398.112m).Touched("G54.Y", "07:14", -188.4m).CuttingAt("07:30");

    private static CaseBuilder CarriedOver() => new CaseBuilder().Held("G54", -410.2m, -205.1m, -318.204m).Program("O2041")
        .LastCut("G54", "O2041").Touched("G54.Z", "07:13", -317.9m).CuttingAt("07:30");

    [Fact]
    public void A_rule_that_is_off_finds_nothing() => Assert.Empty(Corner().Rule("axis-not-set", null).Found("axis-not-set"));

    [Theory]
    [InlineData(Severity.Note)]
    [InlineData(Severity.High)]
    public void The_configured_severity_takes_the_place_of_the_default(Severity configured) =>
        Assert.Equal(configured, Assert.Single(Corner().Rule("axis-not-set", configured).Found("axis-not-set")).Severity);

    [Theory]
    [InlineData(Severity.Low, Severity.Low)]
    [InlineData(Severity.Stop, Severity.High)]
    public void A_milder_clause_takes_the_lower_of_both(Severity configured, Severity expected) =>
        Assert.Equal(expected, Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3).QuietAt("08:00")
            .Touched("G54.X", "07:13", -4m).Touched("G54.Y", "07:13", -5m)
            .Rule("axis-not-set", configured).Found("axis-not-set")).Severity);

    [Fact]
    public void A_note_stays_a_note_whatever_is_configured() =>
        Assert.All(CarriedOver().Rule("axis-not-set", Severity.Stop).Found("axis-not-set"),
            finding => Assert.Equal(Severity.Note, finding.Severity));

    [Fact]
    public void Findings_come_in_the_order_of_their_moments_and_then_of_ids()
    {
        var found = CarriedOver().All();
        Assert.True(found.Count > 1);
        Assert.Equal(found.OrderBy(finding => finding.AtUtc).ThenBy(finding => finding.Id, StringComparer.Ordinal), found);
    }

    [Fact]
    public void Every_rule_has_a_name_of_its_own() =>
        Assert.Equal(RuleBook.Rules.Count, RuleBook.Rules.Select(rule => rule.Name).Distinct().Count());
}
