using SetupAudit.Changes;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class ValuesRestoredTests
{
    private const string Rule = "values-restored";

    private static Change Same(Change change) => change with { SameAsUtc = When.At("02-20 15:00"), By = ChangedBy.Restored };

    private static CaseBuilder Back(Func<Change, Change>? more = null) => new CaseBuilder().Held("G54", -400m, -200m, -318m)
        .Changed("G54.X", "07:05", "07:10", -350.12m, more ?? Same).Changed("G54.Z", "07:05", "07:10", -290.3m, more ?? Same);

    [Fact]
    public void A_register_that_is_back_at_an_older_state_is_found_once()
    {
        var finding = Assert.Single(Back().Found(Rule));
        Assert.Equal("mill-3@20260302-070000/values-restored/G54", finding.Id);
        Assert.Equal((Severity.Low, When.At("07:10")), (finding.Severity, finding.AtUtc));
        Assert.Equal(
            "G54 went back, to the last digit, to what it last showed at 2026-02-20 15:00: X -350.12 mm and Z -290.3 mm by "
            + "2026-03-02 07:10.", finding.Message);
    }

    [Fact]
    public void A_register_with_new_values_is_not_restored() => Assert.Empty(Back(change => change).Found(Rule));

    [Fact]
    public void A_touch_that_happens_to_give_the_old_values_measured_them() =>
        Assert.Empty(Back(change => Same(change) with { Touched = true }).Found(Rule));

    [Fact]
    public void A_register_that_was_cleared_is_not_restored() =>
        Assert.Empty(new CaseBuilder().Held("G54.X", -400m).Changed("G54.X", "07:05", "07:10", 0m, Same).Found(Rule));

    [Fact]
    public void A_z_put_back_after_a_dry_run_is_a_lift() =>
        Assert.Empty(new CaseBuilder().Held("G54.Z", -318m).Changed("G54.Z", "07:05", "07:10", -268m)
            .Changed("G54.Z", "07:15", "07:20", -318m, Same).Lifted("G54.Z", -318m, -268m, "07:10", -318m, "07:20").Found(Rule));

    [Fact]
    public void What_came_back_with_the_memory_is_another_rule() =>
        Assert.Empty(Back().Lost("07:10", "registers", 5, 6, returned: true).Found(Rule));
}
