using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

public sealed class FixedMovedTests
{
    private const string Rule = "fixed-moved";

    private static CaseBuilder Fixed(decimal z, Unit unit = Unit.Millimetre) => new CaseBuilder()
        .Program("O2041", program => program.Cuts("G58").Sheet(sheet => sheet with
        {
            Units = unit,
            Datums =
            [
                new SheetDatum
                {
                    Register = CaseBuilder.Register("G58"), Fixed = new Dictionary<Axis, decimal> { [Axis.Z] = z },
                },
            ],
        }));

    [Fact]
    public void A_fixed_datum_that_stands_elsewhere_stops()
    {
        var finding = Assert.Single(Fixed(-350.000m).Held("G58.Z", -350.000m).Changed("G58.Z", "07:05", "07:10", -349.200m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/fixed-moved/G58.Z", finding.Id);
        Assert.Equal((Severity.Stop, -349.2m, -350m), (finding.Severity, finding.Value, finding.Expected));
        Assert.Equal(
            "Z of G58 stands at -349.200 mm, and the setup sheet of O2041 gives it as fixed at -350.000 mm: it is 0.800 mm away.",
            finding.Message);
        Assert.Equal(When.At("07:10"), finding.AtUtc);
    }

    [Fact]
    public void One_that_moved_before_the_setup_is_held_against_it_from_its_opening() =>
        Assert.Equal(When.At("07:00"), Assert.Single(Fixed(-350m).Held("G58.Z", -349.2m).Found(Rule)).AtUtc);

    [Fact]
    public void The_same_value_with_other_digits_is_the_same() =>
        Assert.Empty(Fixed(-350.0m).Held("G58.Z", -350.000m).Found(Rule));

    [Fact]
    public void The_last_digit_counts() => Assert.Single(Fixed(-350.000m).Held("G58.Z", -350.001m).Found(Rule));

    [Fact]
    public void A_sheet_in_inches_is_compared_to_the_resolution_of_a_millimetre_machine()
    {
        Assert.Empty(Fixed(-13.7795m, Unit.Inch).Held("G58.Z", -349.999m).Found(Rule));
        Assert.Single(Fixed(-13.7795m, Unit.Inch).Held("G58.Z", -350.001m).Found(Rule));
    }

    [Fact]
    public void A_datum_that_no_source_has_shown_is_not_known_to_have_moved() => Assert.Empty(Fixed(-350m).Found(Rule));

    [Fact]
    public void A_datum_that_holds_no_value_has_moved() =>
        Assert.StartsWith("The control holds no value for Z of G58", Assert.Single(Fixed(-350m).Held("G58.Z", null).Found(Rule)).Message,
            StringComparison.Ordinal);
}
