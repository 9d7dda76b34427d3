using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

public sealed class DataSettingReaderTests
{
    public static TheoryData<string> Files => DumpFixture.Inputs("data-setting");

    [Theory]
    [MemberData(nameof(Files))]
    public void A_dump_gives_what_its_pair_says(string file) =>
        DumpFixture.Check("data-setting", SourceKind.DataSetting, file);

    [Theory]
    [InlineData("G10 L2 P1 X-310.2000")]
    [InlineData("g10l2p1x-310.2000")]
    [InlineData("x-310.2000 p1 l2 g10")]
    [InlineData("G 1 0 L\t2 P 1 X - 3 1 0 . 2 0 0 0")]
    [InlineData("N10 G10 L2 (first) P01 X-310.2000 ; part zero")]
    [InlineData("N0010 G90 G21 G10 L2. P1.0 X-310.2000 M30")]
    public void The_same_block_may_be_written_in_many_ways(string block) =>
        Assert.Equal("G54.X=-310.2000", Dumps.Said(Dumps.DataSetting(block)));

    [Theory]
    [InlineData("G10 L2 P1 X1.\rG10 L2 P2 X2.\r")]
    [InlineData("G10 L2 P1 X1.\nG10 L2 P2 X2.\n")]
    [InlineData("G10 L2 P1 X1.\r\nG10 L2 P2 X2.\r\n")]
    [InlineData("G10 L2 P1 X1.\r\nG10 L2 P2 X2.")]
    public void Any_line_end_will_do(string text) =>
        Assert.Equal([1, 2], Dumps.DataSetting(text).Offsets.Select(reading => reading.Line));

    [Theory]
    // Common practice, no source: a later line under G10 gives L or P and nothing that makes it another block.
    [InlineData("G10 L2 P1 X1.\nP2 X2.\n", "G54.X=1 G55.X=2")]
    [InlineData("G10 L2 P1 X1.\nN20 L10 P3 R5.\n", "G54.X=1 T3.length=5")]
    [InlineData("G10 L2 P1 X1.\nX2.\n", "G54.X=1")]
    [InlineData("G10 L2 P1 X1.\nG0 P2 X2.\n", "G54.X=1")]
    [InlineData("G10 L2 P1 X1.\nM98 P2\nP3 X3.\n", "G54.X=1 G56.X=3")]
    [InlineData("G10 L2 P1 X1.\nG11\nP2 X2.\n", "G54.X=1")]
    [InlineData("G10 L2 P1\nM30\nP2 X2.\n", "")]
    public void G10_stays_in_force_until_G11(string text, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(text)));

    [Theory]
    [InlineData("G10 L3\nP1 L500\nT1 H1\nG11\nG10 L2 P1 X1.\n")]
    [InlineData("G10 L50\nN5221 P1 R5\nL2 P1 X9.\nG11\nG10 L2 P1 X1.\n")]
    [InlineData("G10 L52\nN1201 R5.\nG10 L2 P1 X1.\n")]
    public void Tool_lives_and_parameters_entered_by_G10_never_count(string text)
    {
        var result = Dumps.DataSetting(text);
        Assert.Equal("G54.X=1", Dumps.Said(result));
        Assert.Equal(ArrivalStatus.Read, result.Status);
    }

    [Theory]
    [InlineData("/G10 L2 P1 X1.\nG10 L2 P2 X2.\n", "G54.X=1:Conditional G55.X=2")]
    [InlineData("N10 /2 G10 L2 P1 X1.\n", "G54.X=1:Conditional")]
    // Whether G91 or G20 is in force depends on the switch, and so does every value until it is said again.
    [InlineData("/G91\nG10 L2 P1 X1.\nG90\nG10 L2 P1 X2.\n", "G54.X=1:Conditional G54.X=2")]
    [InlineData("/G20\nG10 L2 P1 X1.\nG21\nG10 L2 P1 X2.\n", "G54.X=25.4:Conditional G54.X=2")]
    [InlineData("/G90\nG10 L2 P1 X1.\n", "G54.X=1")]
    [InlineData("/G10 L2 P1 X1.\nP2 X2.\nG10 L2 P3 X3.\n", "G54.X=1:Conditional G55.X=2:Conditional G56.X=3")]
    public void A_block_behind_a_block_delete_is_conditional(string text, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(text)));

    [Theory]
    [InlineData("%\nG10 L2 P1 X1.\nG10 L2 P2 X2.\n", 4, 1, "G54.X=1 G55.X=2")]
    [InlineData("%\nG10 L2 P1 X1.\nG10 L2 P2 X2. Y-20", 3, 15, "G54.X=1 G55.X=2")]
    [InlineData("%\nG10 L2 P1 X1.\nG10 L2 P2 X2. Y-", 3, 17, "G54.X=1 G55.X=2")]
    [InlineData("%\nG10 L2 P1 X1.\nG10 L2 P1", 3, 8, "G54.X=1")]
    [InlineData("%\nG10 L2 P1 X1.\nP2 X2. Y3.", 3, 8, "G54.X=1")]
    [InlineData("%\nG10 L2 P1 X1. (part", 2, 15, "G54.X=1")]
    public void A_dump_that_opens_with_percent_and_does_not_close_is_cut_off(string text, int line, int column, string said)
    {
        var result = Dumps.DataSetting(text);
        Assert.Equal(said, Dumps.Said(result));
        var fault = Assert.Single(result.Faults);
        Assert.Equal((line, column), (fault.Line, fault.Column));
        Assert.Equal(ArrivalStatus.Partial, result.Status);
    }

    [Theory]
    [InlineData("%\nG10 L2 P1 X1.\n%\n")]
    [InlineData("\n (dump)\n%\nO1234\nG10 L2 P1 X1.\n%\nwhat stands here is no part of it")]
    [InlineData("G10 L2 P1 X1.\nM30\n%\n")]
    [InlineData(":1234\nG54\nG10 L2 P1 X1.\nM99\n")]
    public void What_is_legal_and_sets_nothing_is_passed_over(string text)
    {
        var result = Dumps.DataSetting(text);
        Assert.Equal("G54.X=1", Dumps.Said(result));
        Assert.Empty(result.Faults);
    }

    [Theory]
    [InlineData("G10 L2 P99999999999 X1.", 8, "P99999999999 names no register; P0 to P9 do")]
    [InlineData("G10 L2 P10 X1.", 8, "P10 names no register; P0 to P9 do")]
    [InlineData("G10 L20 P0 X1.", 9, "P0 names no register of G54.1; P1 to P999 do")]
    [InlineData("G10 L2 P-1 X1.", 8, "P-1 names no register; P0 to P9 do")]
    [InlineData("G10 L2 P1 X1e999", 13, "E is no word of a data setting; numbers are written without exponent")]
    [InlineData("G10 L2 P1 X--5", 13, "X has no number: \"-\" stands where one was expected")]
    [InlineData("G10 L2 P1 Z.", 13, "Z has no number: the end of the file stands where one was expected")]
    [InlineData("G10 L2 P1 X1.2.3", 15, "\".\" stands where a word such as X-12.5 was expected")]
    [InlineData("G10 L2 P1 X1. X2.", 15, "X stands twice in one block, and only one can hold")]
    [InlineData("G10 L2 P1 X[1+2]", 11, "X is given by an expression; a dump holds plain numbers")]
    [InlineData("G10 L2 X1.", 1, "P is missing; it says a register the block sets")]
    [InlineData("G10 P1 X1.", 1, "G10 has no L here; L2, L20 and L10 to L13 set offsets")]
    [InlineData("G10 L7 P1 X1.", 5, "L7 is not known; L2, L20 and L10 to L13 set offsets")]
    [InlineData("G10 L10 P1 Z100.", 12, "R is missing; it holds the value of a tool offset")]
    [InlineData("G10 L2 P1 X99999999999.", 11, "X99999999999 is beyond any machine")]
    [InlineData("G10 L2 P1 X1234567890123456789.", 12, "the number of X has more than 17 digits")]
    [InlineData("G20 G21 G10 L2 P1 X1.", 1, "two G words of one group stand in this block, and only one can hold")]
    [InlineData("G10 L2 P1 X1., Y2.", 14, "a comma stands before Y; only moves have such words")]
    [InlineData("G10 L2 P1 X-310,2", 16, "a comma stands here without a word behind it")]
    [InlineData("HELLO", 2, "H has no number: \"E\" stands where one was expected")]
    [InlineData("G10 L2 P1 (a (b) c) X1.", 14, "a parenthesis opens inside a comment; comments do not nest")]
    [InlineData("IF[#1 EQ 0] GOTO 10", 1, "a flow word stands here: what runs behind it depends, and a dump holds plain blocks")]
    public void What_cannot_be_read_is_a_fault_in_its_place(string block, int column, string reason)
    {
        var result = Dumps.DataSetting($"G10 L2 P9 Y7.\n{block}");
        Assert.StartsWith("G59.3.Y=7", Dumps.Said(result));
        Assert.Equal([new Fault(2, column, reason)], result.Faults);
        Assert.DoesNotContain(result.Offsets, reading => reading.Line == 2);
    }

    [Fact]
    public void Nothing_is_read_behind_the_first_fault()
    {
        var result = Dumps.DataSetting("G10 L2 P1 X1. Y2.\nG10 L2 P2 X3. Y--4 Z5.\nG10 L2 P3 X6.\n");
        Assert.Equal("G54.X=1 G54.Y=2 G55.X=3", Dumps.Said(result));
        Assert.Equal((2, 17), (result.Faults[0].Line, result.Faults[0].Column));
    }

    [Theory]
    // The table published with RS274/NGC (3.2.1, table 2) names the numbers; a write of another one sets no offset.
    [InlineData("#5221 = -310.2000\n#100 = 7\n", "G54.X=-310.2000")]
    [InlineData("/#5386 = 4\n", "G59.3.C=4:Conditional")]
    public void A_parameter_write_sets_the_offset_its_number_holds(string text, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.DataSetting(text)));
}
