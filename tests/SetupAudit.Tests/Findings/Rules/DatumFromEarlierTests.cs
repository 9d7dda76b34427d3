using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class DatumFromEarlierTests
{
    private const string Rule = "datum-from-earlier";

    private static CaseBuilder TwoVises() => new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", -4, -5, -6)
        .Program("O2041", program => program.Cuts("G54").Cuts("G55", line: 80))
        .Touched("G54.X", "07:10", -11m).Touched("G54.Y", "07:10", -12m).Touched("G54.Z", "07:12", -13m).CuttingAt("07:30");

    [Fact]
    public void A_register_that_this_setup_did_not_touch_is_found()
    {
        var finding = Assert.Single(TwoVises().Found(Rule));
        Assert.Equal("mill-3@20260302-070000/datum-from-earlier/G55", finding.Id);
        Assert.Equal(Severity.High, finding.Severity);
        Assert.Equal(
            "O2041 cuts in G55, which this setup did not touch: its values have stood since 2026-02-27 09:10.", finding.Message);
        Assert.Contains(finding.Evidence, line => line.Line == 80);
    }

    [Fact]
    public void One_touched_axis_is_a_touched_register() =>
        Assert.Empty(TwoVises().Touched("G55.Z", "07:15", -6m).Found(Rule));

    [Fact]
    public void A_touch_that_found_no_surface_touched_nothing() =>
        Assert.Single(TwoVises().Touched("G55.Z", "07:15", missed: true).Found(Rule));

    [Fact]
    public void A_repeat_of_the_same_program_is_a_note()
    {
        var finding = Assert.Single(TwoVises().LastCut("G55", "O2041").Found(Rule));
        Assert.Equal(Severity.Note, finding.Severity);
        Assert.Equal(
            "O2041 cuts in G55, which this setup did not touch: O2041 was also the last to cut in it (2026-03-01 16:10), and "
            + "nothing else has run between.", finding.Message);
    }

    [Theory]
    [InlineData("O2041", null, true)]
    [InlineData("O7", null, false)]
    [InlineData("O2041", "BRACKET", false)]
    public void It_is_no_repeat_where_anything_else_ran_or_it_was_another_program(string program, string? title, bool others) =>
        Assert.Equal(Severity.High,
            Assert.Single(TwoVises().LastCut("G55", program, title: title, othersSince: others).Found(Rule)).Severity);

    [Fact]
    public void A_program_that_came_to_hand_later_is_judged_when_it_did()
    {
        CaseBuilder Second(string touched) => new CaseBuilder().Held("G54", -1, -2, -3).Held("G55", -4, -5, -6)
            .Program("O1", program => program.Cuts("G54")).Program("O2", program => program.Cuts("G55").Handed("09:00"))
            .Touched("G54.X", "07:10", -11m).Touched("G55.X", touched, -14m).CuttingAt("07:30");
        Assert.Empty(Second("08:30").Found(Rule));
        Assert.Equal(When.At("09:00"), Assert.Single(Second("09:30").Found(Rule)).AtUtc);
    }

    [Fact]
    public void A_register_that_only_parks_is_not_meant() =>
        Assert.Empty(new CaseBuilder().Held("G59", -1, -2, -3)
            .Program("O2041", program => program.Parks("G59")).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_fixed_datum_is_meant_to_come_from_earlier() =>
        Assert.Empty(new CaseBuilder().Held("G58", -600, -300, -350)
            .Program("O2041", program => program.Cuts("G58").Sheet(sheet => sheet with
            {
                Datums =
                [
                    new SheetDatum
                    {
                        Register = CaseBuilder.Register("G58"), Fixed = new Dictionary<Axis, decimal> { [Axis.X] = -600m },
                    },
                ],
            })).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void A_register_that_the_program_sets_in_every_axis_comes_from_no_earlier_setup()
    {
        CaseBuilder Job(string probed) => new CaseBuilder().Held("G54", -1, -2, -3)
            .Program("O2041", program => program.Cuts("G54").Probes("G54", probed)).CuttingAt("07:30");
        Assert.Empty(Job("XYZ").Found(Rule));
        Assert.Single(Job("Z").Found(Rule));
    }

    [Fact]
    public void A_lathe_register_of_zeros_is_normal() =>
        Assert.Empty(new CaseBuilder().Lathe().Held("G54.X", 0).Held("G54.Z", 0)
            .Program("O55", program => program.Cuts("G54", "XZ")).CuttingAt("07:30").Found(Rule));

    [Fact]
    public void Where_a_called_program_was_not_read_the_sentence_says_may() =>
        Assert.Contains("O2041 may cut (a program it calls has not been read) in G54",
            Assert.Single(new CaseBuilder().Held("G54", -1, -2, -3)
                .Program("O2041", program => program.MayCut("G54").Missing("O100")).CuttingAt("07:30").Found(Rule)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_register_that_no_source_has_shown_is_found_too() =>
        Assert.EndsWith("no source has shown its values.",
            Assert.Single(new CaseBuilder().Program("O2041").CuttingAt("07:30").Found(Rule)).Message, StringComparison.Ordinal);

    [Fact]
    public void Nothing_is_said_before_the_setup_is_judged() =>
        Assert.Empty(new CaseBuilder().Held("G54", -1, -2, -3).Program("O2041").Found(Rule));
}
