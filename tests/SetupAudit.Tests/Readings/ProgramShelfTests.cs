using SetupAudit.Datums;

namespace SetupAudit.Readings;

public sealed class ProgramShelfTests
{
    private const string Main = "O1\nG54 M98 P100\nG55 M98 P100\nM30\n";
    private const string Contour = "O100\nG1 X5. F100\nM99\n";

    [Fact]
    public void A_sub_program_called_in_two_vises_cuts_in_both() =>
        Assert.Equal("G54 cuts, G55 cuts", Programs.Registers(Main, Contour));

    [Fact]
    public void Where_the_called_program_was_not_read_cuts_is_not_known()
    {
        var scope = Programs.Scope(Main);
        Assert.Equal("G54 may cut, G55 may cut", Programs.Registers(scope));
        Assert.Equal(["O100"], scope.Missing);
    }

    [Theory]
    [InlineData("O1\nG54 G1 X5. F100\nM98 P100\nM30\n", "G54 cuts")]
    [InlineData("O1\nG54 G0 X5.\nM98 P100\nG55 G1 X1.\nG54 G0 X1.\nM30\n", "G54 may cut, G55 cuts")]
    // Behind the call the register is the one it left: no register is known not to be cut in.
    [InlineData("O1\nG55 G0 X5.\nG54 M98 P100\nG1 X1.\nM30\n", "G55 may cut, G54 may cut")]
    [InlineData("O1\nG55 G0 X5.\nG54 M98 P100\nG54 G1 X1.\nM30\n", "G55 parks, G54 cuts")]
    public void What_a_missing_program_may_have_done_is_not_passed(string program, string registers) =>
        Assert.Equal(registers, Programs.Registers(program));

    [Theory]
    // The register, the tool and the motion in force go into the call and come out of it.
    [InlineData("O1\nG54 M98 P100\nG1 X1.\nM30\n", "O100\nG55\nM99\n", "G54 parks, G55 cuts")]
    [InlineData("O1\nG54 T24 M6\nM98 P100\nM30\n", "O100\nG1 X5.\nM99\n", "G54 parks")]
    [InlineData("O1\nG54 T3 M6\nM98 P100\nG1 X5.\nM30\n", "O100\nT24 M6\nM99\n", "G54 parks")]
    [InlineData("O1\nG54 G81 X0 Y0 Z-5. R2. F100 L0\nM98 P100\nG80\nM30\n", "O100\nX5. Y5.\nX9.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54 G0 X0\nM98 P100\nM30\n", "O100\nX5. Y5.\nX9.\nM99\n", "G54 parks")]
    [InlineData("O1\nG54 G0 X0\nG65 P100 A1.\nM30\n", "O100\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54 G0 X0\nG65 P100 X1. Y1.\nM30\n", "O100\nM99\n", "G54 parks")]
    [InlineData("O1\nG54\nM98 P30100\nM30\n", "O100\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54\nM98 P100 L3\nM30\n", "O0100\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54\nM98 P30100\nM30\n", "O30100\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54\nM98 (POCKET)\nM30\n", "O<POCKET>\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nG54\nO<pocket> call\nM30\n", "O<pocket>\nG1 X5.\nM99\n", "G54 cuts")]
    [InlineData("O1\nM98 P100\nM30\n", "O100\nG1 X5.\nM99\n", "G54 cuts")]
    public void Register_tool_and_motion_are_carried_into_a_call_and_out(string program, string called, string registers)
    {
        var scope = Programs.Scope(program, called);
        Assert.Equal(registers, Programs.Registers(scope));
        Assert.Empty(scope.Missing);
    }

    [Theory]
    // A register that a loop works out is another each time round; so is one that only one way selects.
    [InlineData("G55 G0 X1.\n#1=1\nWHILE [#1 LE 24] DO1\nG54.1 P#1\nG1 X5.\n#1=#1+1\nEND1\n", "G55 may cut")]
    [InlineData("G55 G0 X1.\n#1=1\nN10 G54.1 P#1\nG1 X5.\n#1=#1+1\nIF [#1 LE 24] GOTO 10\n", "G55 may cut")]
    [InlineData("#1=7\nG54.1 P#1\nG1 X5.\n", "G54.1 P7 cuts")]
    [InlineData("#14=55\nG#14 G1 X5.\n", "G55 cuts")]
    [InlineData("G56 G0 X1.\nG#4014 G1 X5.\n", "G56 may cut")]
    [InlineData("G54 G0 X1.\nIF [#1 EQ 1] GOTO 10\nG55\nN10 G1 X5.\n", "G54 may cut, G55 may cut")]
    [InlineData("G54 G0 X1.\nIF [#1 EQ 1] GOTO 10\nG54 X2.\nN10 G1 X5.\n", "G54 cuts")]
    [InlineData("G54 G0 X1.\nIF [#1 EQ 1] GOTO 10\nG55\nN10 G54 G1 X5.\n", "G54 cuts, G55 parks")]
    [InlineData("G54 G0 X1.\nO10 if [#1 EQ 1]\nG55\nO10 endif\nG1 X5.\n", "G54 may cut, G55 may cut")]
    [InlineData("T24 M6\nG54 G0 X1.\nIF [#1 EQ 1] GOTO 10\nT3 M6\nN10 G1 X5.\n", "G54 cuts")]
    public void A_register_that_depends_on_the_way_through_is_not_known(string program, string registers) =>
        Assert.Equal(registers, Programs.Registers(program));

    [Fact]
    public void A_scope_is_whole_only_where_every_register_and_tool_is_known()
    {
        Assert.True(Programs.Scope("G54 T3 M6\nG1 X5.\n").IsWhole);
        Assert.False(Programs.Scope("G54 T#1 M6\nG1 X5.\n").IsWhole);
        Assert.False(Programs.Scope("G54.1 P#1\nG1 X5.\n").IsWhole);
        Assert.False(Programs.Scope("G54 G1 X5.\nM98 P5\n").IsWhole);
    }

    [Fact]
    public void A_program_that_calls_itself_ends()
    {
        Assert.Equal("G54 cuts", Programs.Registers("O1\nG54 G1 X1.\nM98 P2\nM30\n", "O2\nM98 P1\nM99\n"));
        Assert.Equal("G54 cuts", Programs.Registers("O1\nG54 G1 X1.\nM98 P1\nM30\n"));
    }

    [Fact]
    public void Calls_that_fan_out_without_end_are_walked_once_each()
    {
        var texts = Enumerable.Range(1, 30).Select(number => $"O{number}\nG54\nM98 P{number + 1}\nM98 P{number + 1}\nM99\n");
        var scope = Programs.Scope([.. texts, "O31\nG1 X5.\nM99\n"]);
        Assert.False(scope.IsCutShort);
        Assert.Equal("G54 cuts", Programs.Registers(scope));
    }

    [Fact]
    public void Calls_nested_deeper_than_any_controls_are_cut_short_and_pass_nothing()
    {
        var texts = Enumerable.Range(1, 40).Select(number => $"O{number}\nG5{4 + number % 6} G0 X1.\nM98 P{number + 1}\nM99\n");
        var scope = Programs.Scope([.. texts, "O41\nG1 X5.\nM99\n"]);
        Assert.True(scope.IsCutShort);
        Assert.All(scope.Registers, register => Assert.Null(register.Cuts));
    }

    [Fact]
    public void A_files_own_sub_program_comes_before_another_files()
    {
        const string own = "O1\nG54 M98 P100\nM30\nO100\nG1 X5.\nM99\n";
        Assert.Equal("G54 cuts", Programs.Registers(own, "O100\nG0 X1.\nM99\n"));
        Assert.Equal("G54 parks", Programs.Registers("O2\nG54 M98 P100\nM30\n", "O100\nG0 X1.\nM99\n"));
    }

    [Fact]
    public void A_sub_program_is_followed_from_where_it_stands()
    {
        var shelf = new ProgramShelf();
        shelf.Add(Programs.Read("O1\nG54 M98 P100\nM30\nO100\nM98 P101\nM99\nO101\nG1 X5.\nM99\n"));
        Assert.Equal(["O1", "O100", "O101"], shelf.Names);
        Assert.Equal("G54 cuts", Programs.Registers(shelf.Scope("O100", Programs.Modified) ?? throw new InvalidOperationException()));
    }

    [Fact]
    public void Writes_and_probing_come_in_the_order_they_run_with_their_registers_and_files()
    {
        var scope = Programs.Scope(
            "O1\nG10 L2 P3 X1.\nG55 M98 P100\nG56 M98 P100\nG10 L2 P3 X2.\nM30\n",
            "O100\nG52 Y5.\nG65 P7040 Q9.\nG38.2 Z-1. F50\nM99\n");
        Assert.Equal("G56.X=1 G55.Y+=5 G56.Y+=5 G56.X=2", Programs.Writes(scope.Writes).Replace(".0", "", StringComparison.Ordinal));
        Assert.Equal(["G55", "G55", "G56", "G56"], scope.Probing.Select(move => move.Register.ToString()));
        Assert.Equal([null, "O100", "O100", null], scope.Writes.Select(write => write.Program));
        Assert.Equal([2, 2, 2, 5], scope.Writes.Select(write => write.Source?.Line));
        Assert.NotEqual(scope.Writes[0].Source?.File, scope.Writes[1].Source?.File);
    }

    [Fact]
    public void Tools_come_with_their_offsets_from_called_programs_too()
    {
        var scope = Programs.Scope("O1\nT3 M6\nM98 P100\nM30\n", "O100\nG43 H3 Z5.\nG41 D33 X1.\nT4 M6\nG43 H4\nM99\n");
        Assert.Equal("T3 H3 D33, T4 H4", Programs.Tools(scope));
        Assert.Equal([2, 0], scope.Tools.Select(tool => tool.Line));
    }

    [Fact]
    public void A_register_has_the_axes_and_the_lowest_Z_of_all_its_stretches()
    {
        var scope = Programs.Scope("O1\nG54 G0 X1. Z5.\nM98 P100\nG54 G1 Y2.\nM30\n", "O100\nG1 Z-7.\nC90.\nM99\n");
        var register = Assert.Single(scope.Registers);
        Assert.Equal([Axis.X, Axis.Y, Axis.Z, Axis.C], register.Axes);
        Assert.Equal((-7m, 2), (register.LowestZ, register.Line));
    }

    [Fact]
    public void The_text_at_a_moment_is_the_last_not_later_else_the_first_read_after_it()
    {
        var texts = new[] { "O1\nG54 G1 X1.\n", "O1\nG55 G1 X1.\n", "O1\nG56 G1 X1.\n" }
            .Select((text, day) => Programs.Read(text) with { ModifiedUtc = Programs.Modified.AddDays(day) }).ToList();
        foreach (var order in new[] { new[] { 0, 1, 2 }, [2, 0, 1], [1, 2, 0] })
        {
            var shelf = new ProgramShelf();
            foreach (var index in order) shelf.Add(texts[index]);
            Assert.Equal("G54", RegisterAt(shelf, -1));
            Assert.Equal("G54", RegisterAt(shelf, 0));
            Assert.Equal("G54", RegisterAt(shelf, 0.5));
            Assert.Equal("G55", RegisterAt(shelf, 1));
            Assert.Equal("G56", RegisterAt(shelf, 9));
            Assert.Equal(texts, shelf.Versions("O1"));
        }
        Assert.Null(new ProgramShelf().Scope("O1", Programs.Modified));
    }

    [Fact]
    public void A_called_program_that_changes_later_changes_what_the_caller_does()
    {
        var shelf = new ProgramShelf();
        shelf.Add(Programs.Read("O1\nM98 P2\nM30\n"));
        shelf.Add(Programs.Read("O2\nG55 G1 X1.\nM99\n"));
        Assert.Equal("G55", RegisterAt(shelf, 0));
        shelf.Add(Programs.Read("O2\nG56 G1 X1.\nM99\n") with { ModifiedUtc = Programs.Modified.AddDays(1) });
        Assert.Equal("G55", RegisterAt(shelf, 0));
        Assert.Equal("G56", RegisterAt(shelf, 1));
    }

    private static string? RegisterAt(ProgramShelf shelf, double days) =>
        shelf.Scope("O1", Programs.Modified.AddDays(days))?.Registers[^1].Register.ToString();
}
