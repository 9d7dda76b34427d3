using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class SameInTwoTests
{
    private const string Rule = "same-in-two";

    private static CaseBuilder Copied(decimal z) => new CaseBuilder().Held("G54", -398.1m, -188.4m, -317.9m)
        .Held("G55", -1m, -2m, -3m).Changed("G55.X", "07:05", "07:10", -398.100m)
        .Changed("G55.Y", "07:05", "07:10", -188.400m).Changed("G55.Z", "07:05", "07:12", z).CuttingAt("07:30");

    [Fact]
    public void Two_registers_with_the_same_values_are_found()
    {
        var finding = Assert.Single(Copied(-317.900m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/same-in-two/G54+G55", finding.Id);
        Assert.Equal((Severity.Low, When.At("07:12")), (finding.Severity, finding.AtUtc));
        Assert.Equal("G54 and G55 hold the same values in every axis: X -398.1 mm, Y -188.4 mm and Z -317.9 mm.", finding.Message);
    }

    [Fact]
    public void One_axis_that_differs_is_enough() => Assert.Empty(Copied(-317.901m).Found(Rule));

    [Fact]
    public void A_rotary_axis_that_differs_is_enough() =>
        Assert.Empty(Copied(-317.9m).Held("G54.B", 0m).Held("G55.B", 90m).Found(Rule));

    [Fact]
    public void Registers_of_zeros_are_empty_and_not_the_same() =>
        Assert.Empty(new CaseBuilder().Held("G54.X", 0m).Held("G54.Y", 0m).Held("G55.X", 1m).Held("G55.Y", 0m)
            .Changed("G55.X", "07:05", "07:10", 0m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Registers_that_this_setup_did_not_set_are_not_its_doing() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1m, -2m, -3m).Held("G55", -1m, -2m, -3m).Held("G56.X", -1m)
            .Touched("G56.X", "07:10", -9m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Three_of_them_are_one_finding() =>
        Assert.Equal("mill-3@20260302-070000/same-in-two/G54+G55+G56",
            Assert.Single(Copied(-317.9m).Held("G56", -398.1m, -188.4m, -317.9m).Found(Rule)).Id);

    [Fact]
    public void The_common_offset_is_no_register_of_a_part() =>
        Assert.Empty(new CaseBuilder().Held("COMMON", -1m, -2m, -3m).Held("G54", -1m, -2m, -4m)
            .Touched("G54.Z", "07:10", -3m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Nothing_is_said_while_the_setup_goes_on() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1m, -2m, -3m).Held("G55", -1m, -2m, -4m).Touched("G55.Z", "07:10", -3m).Found(Rule));
}
