using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class RegisterUnusedTests
{
    private const string Rule = "register-unused";

    private static CaseBuilder Wrong(Func<ProgramBuilder, ProgramBuilder> program) =>
        new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", -4, -5, -6).Program("O2041", program)
            .Touched("G55.X", "07:10", -11m).Touched("G55.Y", "07:10", -12m).CuttingAt("07:30");

    [Fact]
    public void A_register_that_no_program_of_the_setup_calls_is_found()
    {
        var finding = Assert.Single(Wrong(program => program.Cuts("G54")).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/register-unused/G55", finding.Id);
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Equal(
            "X and Y of G55 were set by 07:10, and no program of this setup calls G55: O2041 cuts in G54.", finding.Message);
    }

    [Fact]
    public void A_register_that_is_called_to_park_is_called() =>
        Assert.Empty(Wrong(program => program.Cuts("G54").Parks("G55")).Found(Rule));

    [Fact]
    public void A_program_that_is_not_read_may_call_it()
    {
        Assert.Empty(Wrong(program => program.Unread()).Found(Rule));
        Assert.Empty(Wrong(program => program.Cuts("G54").Missing("O100")).Found(Rule));
        Assert.Empty(Wrong(program => program.Cuts("G54")).Program("O7", program => program.Unread()).Found(Rule));
    }

    [Fact]
    public void Another_program_of_the_setup_may_call_it() =>
        Assert.Empty(Wrong(program => program.Cuts("G54")).Program("O7", program => program.Cuts("G55")).Found(Rule));

    [Fact]
    public void With_no_program_known_nothing_is_unused() =>
        Assert.Empty(new CaseBuilder().Held("G55", -4, -5, -6).Touched("G55.X", "07:10", -11m).QuietAt("08:00").Found(Rule));

    [Fact]
    public void A_program_that_only_probes_sets_registers_for_another() =>
        Assert.Empty(Wrong(program => program.Parks("G54").Probes("G55", "XY")).Found(Rule));

    [Fact]
    public void A_probing_program_does_not_use_the_register_it_sets() =>
        Assert.Single(Wrong(program => program.Cuts("G54")).Program("O8000", program => program.Parks("G55")).Found(Rule));

    [Fact]
    public void A_register_that_was_only_touched_in_passing_to_park_is_not_set_by_a_program_write() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Held("G55.X", -4).Program("O2041")
            .Changed("G55.X", "07:05", "07:10", -9m, change => change with { By = Changes.ChangedBy.Program })
            .CuttingAt("07:30").Found(Rule));

    [Theory]
    [InlineData("COMMON.X")]
    [InlineData("G92.X")]
    public void What_adds_to_every_register_is_not_unused(string key) =>
        Assert.Empty(new CaseBuilder().Held(key, 0).Program("O2041").Touched(key, "07:10", 1m).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Registers_lost_together_were_not_set() =>
        Assert.Empty(new CaseBuilder().Held("G55.X", -4).Program("O2041").Changed("G55.X", "07:05", "07:10", 0m)
            .Lost("07:10", "registers", 5, 6).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Nothing_is_unused_while_the_setup_goes_on() =>
        Assert.Empty(new CaseBuilder().Held("G55.X", -4).Program("O2041").Touched("G55.X", "07:10", -11m).Found(Rule));
}
