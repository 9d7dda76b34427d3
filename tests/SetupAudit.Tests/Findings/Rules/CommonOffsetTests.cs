using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class CommonOffsetTests
{
    private const string Rule = "common-offset";

    [Fact]
    public void A_common_offset_that_is_not_zero_when_cutting_starts_is_found()
    {
        var finding = Assert.Single(new CaseBuilder().Held("COMMON", 0m, 0m, 0.35m).CuttingAt("07:30").Found(Rule));
        Assert.Equal("mill-3@20260302-070000/common-offset/COMMON.Z", finding.Id);
        Assert.Equal((Severity.High, 0.35m, 0m, When.At("07:30")),
            (finding.Severity, finding.Value, finding.Expected, finding.AtUtc));
        Assert.Equal(
            "The common offset stood at 0.35 mm in Z when cutting started at 2026-03-02 07:30: it moves every register by as "
            + "much, and has stood so since 2026-02-27 09:10.", finding.Message);
    }

    [Fact]
    public void A_common_offset_of_zero_is_as_it_should_be() =>
        Assert.Empty(new CaseBuilder().Held("COMMON", 0m, 0m, 0m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void One_that_no_source_has_shown_is_not_known() => Assert.Empty(new CaseBuilder().CuttingAt("07:30").Found(Rule));

    [Fact]
    public void One_put_back_to_zero_in_time_is_fine() =>
        Assert.Empty(new CaseBuilder().Held("COMMON.Z", 0.35m).Changed("COMMON.Z", "07:05", "07:10", 0m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Nothing_is_said_while_the_setup_goes_on() =>
        Assert.Empty(new CaseBuilder().Held("COMMON.Z", 0.35m).Found(Rule));

    [Fact]
    public void A_change_after_cutting_started_is_found()
    {
        var finding = Assert.Single(new CaseBuilder().Held("COMMON.Z", 0m).CuttingAt("07:30")
            .Adjusted("COMMON.Z", "08:00", "08:05", 0.1m).Adjusted("COMMON.Z", "08:20", "08:25", 0m).Found(Rule));
        Assert.Equal(When.At("08:05"), finding.AtUtc);
        Assert.Equal(
            "The common offset was changed in Z after cutting had started: to 0.1 mm by 2026-03-02 08:05, and 1 more change "
            + "followed; it moves every register by as much.", finding.Message);
    }

    [Fact]
    public void A_change_that_may_have_come_either_side_of_the_start_broke_the_rule_where_it_leaves_a_value()
    {
        CaseBuilder Straddling(decimal before, decimal after) => new CaseBuilder().Held("COMMON.Z", before)
            .Changed("COMMON.Z", "07:20", "07:40", after).CuttingAt("07:30");
        Assert.Single(Straddling(0m, 0.1m).Found(Rule));
        // It stood when cutting started, as far as any source shows.
        Assert.Equal(When.At("07:30"), Assert.Single(Straddling(0.1m, 0m).Found(Rule)).AtUtc);
    }

    [Fact]
    public void What_the_program_writes_itself_is_another_rule() =>
        Assert.Empty(new CaseBuilder().Held("COMMON.Z", 0m).CuttingAt("07:30")
            .Adjusted("COMMON.Z", "08:00", "08:05", 0.1m, change => change with { By = ChangedBy.Program }).Found(Rule));

    [Fact]
    public void A_common_z_raised_for_a_dry_run_and_put_back_is_another_rule() =>
        Assert.Empty(new CaseBuilder().Held("COMMON.Z", 0m)
            .Changed("COMMON.Z", "07:20", "07:25", 50m).Changed("COMMON.Z", "07:40", "07:45", 0m)
            .Lifted("COMMON.Z", 0m, 50m, "07:25", 0m, "07:45").CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_value_that_the_sheet_fixes_is_meant() =>
        Assert.Empty(new CaseBuilder().Held("COMMON.Z", 12.7m).CuttingAt("07:30")
            .Program("O2041", program => program.Cuts("G54").Sheet(sheet => sheet with
            {
                Datums = [new SheetDatum { Register = Register.Common, Fixed = new Dictionary<Axis, decimal> { [Axis.Z] = 12.7m } }],
            })).Found(Rule));
}
