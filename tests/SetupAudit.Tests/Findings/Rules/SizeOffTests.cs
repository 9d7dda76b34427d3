using SetupAudit.Findings.Support;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class SizeOffTests
{
    private const string Rule = "size-off";

    private static CaseBuilder Bore(decimal? size, Func<Measurement, Measurement> more) => new CaseBuilder()
        .Measured("07:20", bore => more(bore with { Feature = "bore-1", Size = size }));

    [Fact]
    public void A_size_outside_its_limits_is_found()
    {
        var finding = Assert.Single(Bore(25.034m, bore => bore with { Nominal = 25m, Low = 24.98m, High = 25.02m }).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/size-off/bore-1", finding.Id);
        Assert.Equal((Severity.High, 25.034m, new Bounds(24.98m, 25.02m), Unit.Millimetre),
            (finding.Severity, finding.Value, finding.ExpectedRange, finding.Unit));
        Assert.Equal(
            "The size of bore-1 was measured at 25.034 mm at 2026-03-02 07:20, outside 24.98 to 25.02 mm (nominal 25 mm).",
            finding.Message);
    }

    [Theory]
    [InlineData("24.98")]
    [InlineData("25.02")]
    public void The_limits_are_inside(string size) =>
        Assert.Empty(Bore(decimal.Parse(size, System.Globalization.CultureInfo.InvariantCulture),
            bore => bore with { Nominal = 25m, Low = 24.98m, High = 25.02m }).Found(Rule));

    [Fact]
    public void Limits_may_be_deviations_from_the_nominal()
    {
        var finding = Assert.Single(Bore(25.034m, bore => bore with { Nominal = 25m, Low = -0.02m, High = 0.02m }).Found(Rule));
        Assert.Equal(new Bounds(24.98m, 25.02m), finding.ExpectedRange);
        Assert.Empty(Bore(25.034m, bore => bore with { Nominal = 25m, Low = 0.02m, High = 0.05m }).Found(Rule));
    }

    [Fact]
    public void A_fit_that_lies_off_its_nominal_is_a_range_of_sizes() =>
        Assert.Empty(Bore(25.03m, bore => bore with { Nominal = 25m, Low = 25.02m, High = 25.041m }).Found(Rule));

    [Fact]
    public void One_limit_alone_is_a_limit()
    {
        Assert.Contains("above 25.02 mm", Assert.Single(Bore(25.034m, bore => bore with { High = 25.02m }).Found(Rule)).Message,
            StringComparison.Ordinal);
        Assert.Contains("below 24.98 mm", Assert.Single(Bore(24.9m, bore => bore with { Low = 24.98m }).Found(Rule)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_nominal_without_a_tolerance_judges_nothing() =>
        Assert.Empty(Bore(26m, bore => bore with { Nominal = 25m }).Found(Rule));

    [Fact]
    public void A_deviation_stands_for_the_size() =>
        Assert.Equal(25.03m, Assert.Single(
            Bore(null, bore => bore with { Nominal = 25m, Deviation = 0.03m, Low = -0.02m, High = 0.02m }).Found(Rule)).Value);

    [Fact]
    public void A_feature_is_told_once_with_how_many_are_outside()
    {
        var finding = Assert.Single(Bore(25.034m, bore => bore with { High = 25.02m })
            .Measured("07:40", bore => bore with { Feature = "bore-1", Size = 25.01m, High = 25.02m, Cycle = 0 }).Found(Rule));
        Assert.EndsWith("; 1 of 2 measurements of it are outside, the last at 2026-03-02 07:40, 25.01 mm, is within.",
            finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_size_without_a_feature_has_a_name_all_the_same() =>
        Assert.Equal("mill-3@20260302-070000/size-off/size", Assert.Single(new CaseBuilder()
            .Measured("07:20", bore => bore with { Size = 26m, High = 25.02m }).Found(Rule)).Id);

    [Fact]
    public void A_name_that_would_break_an_id_does_not() =>
        Assert.Equal("mill-3@20260302-070000/size-off/a-b-c", Assert.Single(new CaseBuilder()
            .Measured("07:20", bore => bore with { Feature = "a/b\u0007#c", Size = 26m, High = 25.02m }).Found(Rule)).Id);
}
