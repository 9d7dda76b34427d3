using SetupAudit.Datums;
using SetupAudit.Findings.Support;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

public sealed class ToolNotSetTests
{
    private const string Rule = "tool-not-set";

    private static CaseBuilder Calling(int tool, int? length = null) => new CaseBuilder().CuttingAt("07:30")
        .Program("O2041", program => program.Cuts("G54").Tool(tool, length));

    [Fact]
    public void A_called_tool_whose_length_is_zero_is_found()
    {
        var finding = Assert.Single(Calling(3, 3).Held("T3.length", 0.000m).Found(Rule));
        Assert.Equal("mill-3@20260302-070000/tool-not-set/T3.length", finding.Id);
        Assert.Equal((Severity.High, 3, ToolPart.Length, When.At("07:30")),
            (finding.Severity, finding.Tool, finding.Of, finding.AtUtc));
        Assert.Equal("O2041 calls tool 3, whose length has no value: it stands at 0 since 2026-02-27 09:10.", finding.Message);
        Assert.Contains(finding.Evidence, line => line.Line == 20);
    }

    [Fact]
    public void A_called_tool_that_holds_no_value_is_found() =>
        Assert.EndsWith("the control holds no value for it.", Assert.Single(Calling(3).Held("T3.length", null).Found(Rule)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_tool_with_a_length_is_set() => Assert.Empty(Calling(3, 3).Held("T3.length", 118.2m).Found(Rule));

    [Fact]
    public void A_tool_that_no_source_has_shown_is_unsaid() => Assert.Empty(Calling(33).Held("T3.length", 0m).Found(Rule));

    [Fact]
    public void A_tool_that_is_not_called_may_be_empty() => Assert.Empty(Calling(3).Held("T3.length", 1m).Held("T4.length", 0m).Found(Rule));

    [Fact]
    public void The_offset_that_is_called_with_the_tool_counts()
    {
        var finding = Assert.Single(Calling(3, 53).Held("T3.length", 118m).Held("T53.length", 0m).Found(Rule));
        Assert.StartsWith("O2041 calls tool 3 with offset 53", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reference_tool_is_zero_and_its_others_lie_about_it()
    {
        Assert.Empty(Calling(1).Held("T1.length", 0m).Held("T2.length", -12.4m).Found(Rule));
        Assert.Single(Calling(1).Held("T1.length", 0m).Held("T2.length", 12.4m).Found(Rule));
        Assert.Single(Calling(1).Machine(machine => machine with { ZFromToolLengths = true })
            .Held("T1.length", 0m).Held("T2.length", -301.4m).Found(Rule));
    }

    [Fact]
    public void A_length_that_the_program_writes_itself_is_set() =>
        Assert.Empty(new CaseBuilder().CuttingAt("07:30").Held("T3.length", 0m)
            .Program("O2041", program => program.Cuts("G54").Tool(3).Writes("T3.length", 118m)).Found(Rule));

    [Fact]
    public void On_a_lathe_a_tool_without_geometry_is_found()
    {
        Assert.Equal("mill-3@20260302-070000/tool-not-set/T3.z",
            Assert.Single(Calling(3, 3).Lathe().Held("T3.x", 0m).Held("T3.z", 0m).Found(Rule)).Id);
        Assert.Empty(Calling(3, 3).Lathe().Held("T3.x", -142m).Held("T3.z", 0m).Found(Rule));
    }

    [Fact]
    public void A_tool_measured_before_a_later_program_came_to_hand_is_set()
    {
        CaseBuilder Second() => new CaseBuilder().Held("T9.length", 0m).CuttingAt("07:30")
            .Program("O1", program => program.Cuts("G54"))
            .Program("O2", program => program.Cuts("G54").Tool(9, 9).Handed("09:00"));
        Assert.Equal(When.At("09:00"), Assert.Single(Second().Found(Rule)).AtUtc);
        Assert.Empty(Second().Touched("T9.length", "08:30", 80m).Found(Rule));
    }

    [Fact]
    public void Nothing_is_said_while_the_setup_goes_on() =>
        Assert.Empty(new CaseBuilder().Held("T3.length", 0m).Program("O2041", program => program.Tool(3)).Found(Rule));
}
