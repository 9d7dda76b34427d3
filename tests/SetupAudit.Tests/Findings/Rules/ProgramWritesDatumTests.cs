using SetupAudit.Findings.Support;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class ProgramWritesDatumTests
{
    private const string Rule = "program-writes-datum";

    private static Finding Only(Func<ProgramBuilder, ProgramBuilder> fill) =>
        Assert.Single(new CaseBuilder().Program("O2041", program => fill(program.Cuts("G54"))).Found(Rule));

    [Fact]
    public void A_program_that_sets_a_datum_is_noted_with_line_and_block()
    {
        var finding = Only(program => program.Writes("G54.X", -400m, 14, text: "G10 L2 P1 X-400. Y-200.")
            .Writes("G54.Y", -200m, 14, text: "G10 L2 P1 X-400. Y-200."));
        Assert.Equal("mill-3@20260302-070000/program-writes-datum/O2041", finding.Id);
        Assert.Equal((Severity.Note, CaseBuilder.Register("G54")), (finding.Severity, finding.Register));
        Assert.Equal(
            "O2041 moves a datum itself: line 14 (G10 L2 P1 X-400. Y-200.) sets X of G54 to -400 mm and Y of G54 to -200 mm.",
            finding.Message);
        Assert.Equal(14, Assert.Single(finding.Evidence).Line);
    }

    [Fact]
    public void A_shift_and_a_conditional_block_say_so() =>
        Assert.Equal(
            "O2041 moves a datum itself: line 30 (/G52 Z1.) shifts Z of G54 by 1 mm, only where block delete is off.",
            Only(program => program.Writes("G54.Z", 1m, adds: true, conditional: true, text: "/G52 Z1.")).Message);

    [Fact]
    public void A_block_that_may_be_jumped_over_says_so() =>
        Assert.EndsWith("to 1 mm, only where the program does not jump over it.",
            Only(program => program.Writes("G54.Z", 1m, conditional: true)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_block_of_a_called_program_says_whose_line_it_is() =>
        Assert.Contains("line 30 of O100 (G10 L2 P1) sets Z of G54",
            Only(program => program.Writes("G54.Z", 1m, of: "O100")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_register_that_the_program_works_out_is_not_named()
    {
        var finding = Only(program => program.Writes("COMMON.Z", 1m, target: ProgramWriteTarget.Unknown));
        Assert.Contains("sets Z of a register that it works out while it runs to 1 mm", finding.Message, StringComparison.Ordinal);
        Assert.Null(finding.Register);
    }

    [Fact]
    public void A_value_that_the_program_alone_does_not_give_is_worked_out() =>
        Assert.Contains("Z of G54 by what it works out while it runs",
            Only(program => program.Writes("G54.Z", null, text: "G10 L2 P1 Z#5063")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_probing_call_that_sets_a_datum_is_noted() =>
        Assert.Contains("line 40 (single-surface) sets Z of G54 by probing",
            Only(program => program.Probes("G54", "Z")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_program_that_only_probes_is_how_a_setter_sets_up() =>
        Assert.Empty(new CaseBuilder().Program("O8000", program => program.Parks("G54").Probes("G54", "Z")).Found(Rule));

    [Fact]
    public void Probing_that_sets_nothing_and_writes_of_tools_are_not_meant() =>
        Assert.Empty(new CaseBuilder()
            .Program("O2041", program => program.Cuts("G54").Probes("G54").Writes("T3.length-wear", 0.01m)).Found(Rule));

    [Fact]
    public void A_program_with_many_blocks_is_told_in_a_sentence() =>
        Assert.EndsWith("; and 3 more.", Only(program => Enumerable.Range(1, 8)
            .Aggregate(program, (more, line) => more.Writes("G54.X", line, line, text: $"G10 L2 P1 X{line}."))).Message,
            StringComparison.Ordinal);
}
