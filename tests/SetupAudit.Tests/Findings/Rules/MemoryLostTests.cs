using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class MemoryLostTests
{
    private const string Rule = "memory-lost";

    [Fact]
    public void Registers_lost_together_stop()
    {
        var finding = Assert.Single(new CaseBuilder().Lost("07:10", "registers", 5, 6).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/memory-lost/registers", finding.Id);
        Assert.Equal((Severity.Stop, When.At("07:10")), (finding.Severity, finding.AtUtc));
        Assert.Equal(
            "5 of the 6 registers that held values fell to zero or vanished together at 2026-03-02 07:10: check the reference "
            + "position and every datum before cutting.", finding.Message);
        Assert.Single(finding.Evidence);
    }

    [Fact]
    public void A_mass_return_to_old_values_is_high()
    {
        var finding = Assert.Single(new CaseBuilder().Lost("07:20", "tools", 14, 15, returned: true).Found(Rule));
        Assert.Equal(Severity.High, finding.Severity);
        Assert.StartsWith("14 of the 15 tools that had lost their values came back to old ones together", finding.Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Losses_of_two_moments_have_ids_of_their_own() =>
        Assert.Equal(
            ["mill-3@20260302-070000/memory-lost/registers", "mill-3@20260302-070000/memory-lost/registers#2"],
            new CaseBuilder().Lost("07:30", "registers", 5, 6).Lost("07:10", "registers", 5, 6).Found(Rule)
                .Select(finding => finding.Id));

    [Fact]
    public void It_does_not_rest_on_the_order_of_two_sources() =>
        Assert.Equal(Severity.Stop,
            Assert.Single(new CaseBuilder().Lost("07:10", "registers", 5, 6).ClocksDisagree("an hour").Found(Rule)).Severity);

    [Fact]
    public void One_register_set_to_zero_is_no_loss_of_memory() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Changed("G54.X", "07:05", "07:10", 0m).Found(Rule));
}
