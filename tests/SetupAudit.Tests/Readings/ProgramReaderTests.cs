using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Readings;

public sealed class ProgramReaderTests
{
    [Fact]
    public void A_program_says_its_number_title_units_and_lines()
    {
        var text = Programs.Read("%\nO0041 (PUMP COVER, FIRST SIDE)\n(T3 END MILL)\nG21 G90\nM30\n%\n");
        Assert.Equal(("O41", "PUMP COVER, FIRST SIDE", Unit.Millimetre, 6), (text.Program, text.Title, text.Units, text.Lines));
        Assert.Empty(text.Faults);
    }

    [Theory]
    [InlineData(":0041\nG20\n", "O41")]
    [InlineData("o41 g20\n", "O41")]
    [InlineData("O<pocket>\nG20\n", "pocket")]
    [InlineData("(COVER)\nO0041\nG20\n", "O41")]
    [InlineData("G20\n", "made-up")]
    public void A_program_without_an_O_number_has_its_files_name(string program, string name) =>
        Assert.Equal(name, Programs.Read(program).Program);

    [Fact]
    public void A_program_that_names_no_unit_has_none() => Assert.Null(Programs.Read("G54 G0 X1.\n").Units);

    [Theory]
    [InlineData("G54 G1 X1. F100\nM30\n", "G54 cuts")]
    [InlineData("G54 G0 X1.\nM30\n", "G54 parks")]
    [InlineData("G54 G1 X1.\nG0 G58 X12. Y20.\nM30\n", "G54 cuts, G58 parks")]
    [InlineData("G55 G0 X1.\nG54 G1 X1.\nM30\n", "G55 parks, G54 cuts")]
    [InlineData("G54 G81 X1. Y1. Z-5. R2. F100\nM30\n", "G54 cuts")]
    [InlineData("G54 G83 Z-5. R2. Q1. F100\nM30\n", "G54 cuts")]
    [InlineData("G54 G81 Z-5. R2. F100 L0\nG80\nM30\n", "G54 parks")]
    [InlineData("G54 G81 Z-5. R2. F100 K0\nX5.\nM30\n", "G54 cuts")]
    [InlineData("G54 G2 I-5.\nM30\n", "G54 cuts")]
    [InlineData("G54 G1 F100\nM30\n", "G54 parks")]
    [InlineData("G54 G1 G53 Z0\nM30\n", "G54 parks")]
    [InlineData("G54 G1 G28 Z0\nM30\n", "G54 parks")]
    [InlineData("G54 G1 G4 X2.\nM30\n", "G54 parks")]
    [InlineData("G54 G1\nG10 L2 P1 X5.\nM30\n", "G54 parks")]
    [InlineData("G54 T24 M6\nG1 X5. F500\nG38.2 Z-5. F50\nM30\n", "G54 parks")]
    [InlineData("G54 T24 M6\nG1 X5.\nT3 M6\nG1 X6.\nM30\n", "G54 cuts")]
    [InlineData("G54 T3 M6\nG38.2 Z-5. F50\nM30\n", "G54 parks")]
    [InlineData("G54.1 P7 G1 X1.\nM30\n", "G54.1 P7 cuts")]
    [InlineData("G54 P7\nG1 X1.\nM30\n", "G54.1 P7 cuts")]
    [InlineData("G54 G82 X1. Y1. Z-5. R2. P500 F100\nM30\n", "G54 cuts")]
    [InlineData("G59.3 G1 X1.\nM30\n", "G59.3 cuts")]
    [InlineData("G54 G13 I10. F100\nM30\n", "G54 cuts")]
    [InlineData("G54 G1 F100\nG325 X1. Y2.\nM30\n", "G54 parks")]
    [InlineData("G1 X1.\nM30\n", "G54 cuts")]
    [InlineData("G54\nM30\nG55 G1 X1.\n", "G54 parks")]
    [InlineData("%\nG54\n%\nG55 G1 X1.\n", "G54 parks")]
    [InlineData("/M30\nG54 G1 X1.\nM30\n", "G54 cuts")]
    [InlineData("/G54 G1 X1.\nM30\n", "G54 cuts")]
    public void A_register_counts_as_cut_in_where_a_feed_move_ran_under_a_cutting_tool(string program, string registers) =>
        Assert.Equal(registers, Programs.Registers(program));

    [Theory]
    [InlineData("T2 M01\nG54 G1 X1.\nM30\n", "")]
    [InlineData("T2 M6\nG54 G1 X1.\nM30\n", "T2")]
    [InlineData("M6 T2\nM30\n", "T2")]
    [InlineData("T2\nM6\nT4 M01\nG1 X1.\nM30\n", "T2")]
    [InlineData("T2 M6\nG43 H2 Z5.\nG41 D12 G1 X1.\nT4 M6\nG43 H4\nM30\n", "T2 H2 D12, T4 H4")]
    [InlineData("T2 M6\nG43 H2 Z5.\nG43 H22 Z5.\nM30\n", "T2 H2, T2 H22")]
    [InlineData("T2 M6\nG43 H0\nM30\n", "T2")]
    [InlineData("T2 M6\nG65 P9100 H5. D6.\nM30\n", "T2")]
    public void A_tool_staged_ahead_is_no_tool_changed_to(string program, string tools) =>
        Assert.Equal(tools, Programs.Tools(Programs.Scope(program)));

    [Fact]
    public void A_turret_takes_its_tool_and_offset_from_one_word()
    {
        var lathe = Programs.Mill with { Kind = Shop.MachineKind.Lathe, XOnDiameter = true, ProbeTool = null };
        Assert.Equal("T1 H1, T3 H13", Programs.Tools(Programs.Scope(lathe, "T0101\nG1 X20. Z-5.\nT0313\nG1 U-1.\nM30\n")));
    }

    [Fact]
    public void The_axes_of_a_stretch_are_those_its_moves_name()
    {
        var text = Programs.Read("G54 G0 X1. Z5.\nG1 Y2. C90.\nG53 A0\nG91 G28 B0\nM30\n");
        Assert.Equal([Axis.X, Axis.Y, Axis.Z, Axis.C], Assert.Single(text.Steps).Axes);
    }

    [Theory]
    [InlineData("G54 G0 Z5.\nG1 Z-3.5\nG0 Z50.\n", -3.5)]
    [InlineData("G54 G90 G0 Z5.\nG91 G1 Z-2.\nZ-2.\nZ-2.\nG90 G0 Z5.\n", -1.0)]
    [InlineData("G54 G91 G1 Z-2.\n", null)]
    [InlineData("G54 G0 Z5.\nG28 Z0\nG91 G1 Z-20.\n", 5.0)]
    [InlineData("G54 G0 X5.\n", null)]
    [InlineData("G54 G0 Z5.\nG81 X1. Z-7. R1. F100\nX2.\nG80\n", -7.0)]
    [InlineData("G54 G0 Z5.\nG91 G81 X1. Z-7. R-3. F100\nG80\n", -5.0)]
    [InlineData("G54 G0 Z5.\nG99 G81 X1. Z-7. R1. F100\nG80\nG91 G1 Z-9.\n", -8.0)]
    [InlineData("G54 G0 Z5.\nG98 G81 X1. Z-7. R1. F100\nG80\nG91 G1 Z-13.\n", -8.0)]
    [InlineData("G54 G1 Z-3500\n", -3.5)]
    [InlineData("G20 G54 G1 Z-1.\n", -25.4)]
    [InlineData("G20 G54 G1 Z-1\n", -0.00254)]
    [InlineData("#1=4.\nG54 G1 Z-#1\n", -4.0)]
    [InlineData("#1=4.\nG54 G1 Z[#1-10]\n", -6.0)]
    public void The_lowest_Z_is_kept_in_the_machines_unit(string program, double? lowest) =>
        Assert.Equal((decimal?)lowest, Programs.Read(program).Steps.Min(step => step.LowestZ));

    [Theory]
    // NISTIR 6556 3.3.3: settings act after everything else of their line, and the last one holds.
    [InlineData("#3=15\n#3=6 G1 x#3\n", 15)]
    [InlineData("#3=15\n#3=6\nG1 x#3\n", 6)]
    [InlineData("#3=15 #3=6\nG1 x#3\n", 6)]
    [InlineData("#3=6 #3=15\nG1 x#3\n", 15)]
    // NISTIR 6556 appendix C.2, n0410 to n0450.
    [InlineData("g1 x[2 ** 3.0] #1=2.0\n", 8)]
    [InlineData("#1=2.0\n##1 = 0.375\ng1 x #2 #3=7.0\n", 0.375)]
    [InlineData("#3=7.0\n#3=5.0 g1 x #3\n", 7)]
    [InlineData("#3=7.0\n#3=5.0 g1 x #3\nx #3 #3=1.1\n", 5)]
    // NISTIR 6556 3.3: blanks mean nothing.
    [InlineData("g0x +0. 12 34y 7\n", 0.1234)]
    public void A_move_goes_where_the_published_rules_say(string program, double x)
    {
        // G92 X0 there takes the present X as the offset: the position shows in the write.
        var write = Programs.Read(program + "G92 X0\n", Programs.Published).Writes[^1];
        Assert.Equal((decimal)x, write.Value);
    }

    [Fact]
    public void G92_follows_the_published_example()
    {
        // NISTIR 6556 3.5.18: at X4 with no offset.
        const string program = "G0 X4\nG92 X7\nG92 X9\nG92.2\nG92 X4\nG92.1\n";
        Assert.Equal("G92.X=-3 G92.X=-5 G92.X=0 G92.X=0 G92.Y=0 G92.Z=0", Programs.Writes(program, Programs.Published));
        Assert.Equal("G92.X=-3 G92.X=-5 G92.X=-1", Programs.Writes("G0 X4\nG92 X7\nG92 X9\nG92.2\nG92.3\nG92 X5", Programs.Published));
    }

    [Theory]
    // Without knowing the old offset only the shift is known; without the position, nothing.
    [InlineData("G92 X7.\n", "G92.X=null")]
    [InlineData("G0 X4.\nG92 X[#1]\n", "G92.X=null")]
    [InlineData("M98 P5\nG0 X4.\nG92 X7.\n", "G92.X+=-3")]
    [InlineData("G0 X4.\n/G92 X7.\nG92 X9.\n", "G92.X=-3.0? G92.X=null")]
    public void G92_is_null_where_the_program_alone_does_not_give_it(string program, string writes) =>
        Assert.Equal(writes.Replace("-3.0", "-3"), Programs.Writes(program));

    [Theory]
    // NISTIR 6556 3.5.5, the example of G10.
    [InlineData("G10 L2 P1 x 3.5 y 17.2\n", "G54.X=3.5 G54.Y=17.2")]
    [InlineData("G10 L2 P[2*3] Z1\n", "G59.Z=1")]
    [InlineData("G1\nG54 G10 L2 P2 X1 G91\n", "G55.X=1")]
    [InlineData("#501 = 2\n#510 = 2.50\nG10 L2 P#501 X[#510+1.5]\n", "G55.X=4.00")]
    [InlineData("#5221 = -310.2\n#5386 = 45\n#5323 = 1\n", "G54.X=-310.2 G59.3.C=45 G59.Z=1")]
    [InlineData("G10 L2 P#1 X5\n", "~.X=5")]
    [InlineData("G10 L2 P1 X#5061\n", "G54.X=null")]
    [InlineData("#5061=3\nG38.2 Z-5 F50\nG10 L2 P1 X#5061\n", "G54.X=null")]
    public void A_datum_write_has_the_value_that_the_published_rules_give(string program, string writes) =>
        Assert.Equal(writes, Programs.Writes(program, Programs.Published));

    [Theory]
    [InlineData("G10 L2 P0 X1.\nG10 L20 P7 Y2.\nG10 L2 P9 R30.\n", "COMMON.X=1 G54.1 P7.Y=2 G59.3.R=30")]
    [InlineData("G10 L10 P3 R120.5\nG10 L11 P3 R-.02\nG10 L12 P3 R10.\nG10 L13 P3 R.01\n",
        "T3.length=120.5 T3.length-wear=-0.02 T3.diameter=10 T3.diameter-wear=0.01")]
    [InlineData("G10 L10 P#1 R5.\n", "~.length=5")]
    [InlineData("G91 G10 L2 P1 X.5\n", "G54.X+=0.5")]
    [InlineData("G10 L2 P1 X-312415\n", "G54.X=-312.415")]
    [InlineData("G20 G10 L2 P1 X-1.\n", "G54.X=-25.4")]
    [InlineData("G20 G10 L2 P1 X-10000\n", "G54.X=-25.4000")]
    [InlineData("G10 L2 P1\nL2 P2 X5.\nP3 Y6.\nG11\nP4 X7.\n", "G55.X=5 G56.Y=6")]
    [InlineData("G10 L50\nN5221 P1 R5\nG11\nG10 L3 P1\n", "")]
    [InlineData("/G10 L2 P1 X5.\n", "G54.X=5?")]
    [InlineData("G55\nG52 X5. Y-2.\nG52 X0 Y0\n", "G55.X+=5 G55.Y+=-2 G55.X+=0.000 G55.Y+=0.000")]
    [InlineData("G52 X5.\n", "in force.X+=5")]
    [InlineData("#[5201+20*#24]=5.\n", "~.X=null ~.Y=null ~.Z=null")]
    [InlineData("#[5201+20*2]=5.\n", "G55.X=5")]
    [InlineData("#100=5.\n#[#1]=6.\nG10 L2 P1 X#100\n", "G54.X=null")]
    public void A_datum_write_is_told_as_common_practice_has_it(string program, string writes) =>
        Assert.Equal(Trimmed(writes), Trimmed(Programs.Writes(program)));

    [Theory]
    [InlineData("#1=5\nIF [#2 GT 3] GOTO 20\n#1=6\nN20 G10 L2 P1 X#1\n", "G54.X=null")]
    [InlineData("#1=5\nIF [#2 GT 3] GOTO 20\n#2=6\nN20 G10 L2 P1 X#1\n", "G54.X=5")]
    [InlineData("#1=5\nIF [#2 GT 3] GOTO 20\n#1=6\nG10 L2 P1 X#1\nN20 M30\n", "G54.X=6?")]
    [InlineData("#1=5\nN20 #1=#1+1\nG10 L2 P1 X#1\nIF [#1 LT 9] GOTO 20\nM30\n", "G54.X=null")]
    [InlineData("#1=5\n#2=1\nN20 #2=#2+1\nG10 L2 P1 X#1\nIF [#2 LT 9] GOTO 20\nM30\n", "G54.X=null")]
    [InlineData("#1=0\nWHILE [#1 LT 4] DO1\n#2=#1*10\nG10 L2 P1 X#2\n#1=#1+1\nEND1\n", "G54.X=null?")]
    [InlineData("#1=0\n#3=7\nWHILE [#1 LT 4] DO1\nG10 L2 P1 X#3\n#1=#1+1\nEND1\nG10 L2 P2 X#1\n", "G54.X=7? G55.X=null")]
    [InlineData("#1=1\nWHILE [#1 LT 4] DO1\nG10 L2 P#1 X5.\n#1=#1+1\nEND1\n", "~.X=null?")]
    [InlineData("#1=5\nIF [#2 EQ 1] THEN #1=6\nG10 L2 P1 X#1\n", "G54.X=null")]
    [InlineData("#1=5\nIF [#2 EQ 1] THEN #5221=6\n", "G54.X=6?")]
    [InlineData("#1=5\nGOTO#2\n#1=6\nG10 L2 P1 X#1\n", "G54.X=null?")]
    [InlineData("#1=5\nO100 if [#2 GT 3]\n#1=6\nO100 endif\nG10 L2 P1 X#1\n", "G54.X=null")]
    [InlineData("IF [#1 EQ 0] GOTO 9\nG54 G1 X1.\nM30\nN9 G10 L2 P1 X5.\nM30\nG10 L2 P2 X6.\n", "G54.X=5")]
    public void What_another_way_through_the_program_would_change_is_not_guessed(string program, string writes) =>
        Assert.Equal(writes, Programs.Writes(program));

    [Theory]
    [InlineData("#1=5\n#101=6\nM98 P77\nG10 L2 P1 X#1 Y#101\n", "G54.X=null G54.Y=null")]
    [InlineData("#1=5\n#101=6\nG65 P77\nG10 L2 P1 X#1 Y#101\n", "G54.X=5 G54.Y=null")]
    [InlineData("#1=5\n#101=6\nG65 P7040 Q5.\nG10 L2 P1 X#1 Y#101\n", "G54.X=5 G54.Y=null")]
    [InlineData("G66 P77\n#1=5\n#101=6\nG10 L2 P1 X#1 Y#101\nG67\n#101=6\nG10 L2 P1 Y#101\n", "G54.X=5 G54.Y=null G54.Y=6")]
    public void What_a_called_program_may_set_is_not_guessed(string program, string writes) =>
        Assert.Equal(writes, Programs.Writes(program));

    [Theory]
    [InlineData("G54 G0 Z10.\nG38.2 Z-15. F50\n", "straight 25 from 10 in G54")]
    [InlineData("G54 G91 G38.2 Z-25. F50\n", "straight 25 from null in G54")]
    [InlineData("G54 G0 X0 Y0\nG38.2 X3. Y4. F50\n", "straight 5 from null in G54")]
    [InlineData("G38.2 X3. F50\n", "straight null from null in null")]
    [InlineData("G54 G0 Z10.\nG38.2 Z-15. F50\nZ-20.\n", "straight 25 from 10 in G54, straight null from null in G54")]
    [InlineData("G20 G54 G0 Z.25\nG38.2 Z-.75 F5.\n", "straight 25.4 from 6.35 in G54")]
    [InlineData("G54 G0 Z10.\nG31 Z-15. F50\n", "straight 25 from 10 in G54")]
    [InlineData("G54\nG65 P7040 Q25.\n", "single-surface 25 from null in G54 sets Z")]
    [InlineData("p7040 g 6 5 s55 q25.\n", "single-surface 25 from null in G55 sets Z")]
    [InlineData("G65 P7040 S2\n", "single-surface null from null in G55 sets Z")]
    [InlineData("G65 P7040 S#1 Q#2\n", "single-surface null from null in ? sets Z")]
    [InlineData("#2=12.5\nG65 P7040 Q#2\n", "single-surface 12.5 from null in null sets Z")]
    [InlineData("G54\nG65 P7050\n", "angle null from null in G54")]
    [InlineData("#1=5\nWHILE [#1 LT 40] DO1\nG54 G91 G38.2 Z-#1 F50\n#1=#1+5\nEND1\n", "straight null from null in G54")]
    public void A_probing_move_says_how_far_it_searches(string program, string moves) =>
        Assert.Equal(moves, string.Join(", ", Programs.Read(program).Probing.Select(Said)));

    [Fact]
    public void A_known_probing_routine_is_no_call_of_a_missing_program() =>
        Assert.Empty(Programs.Scope("O1\nG54\nG65 P7040 Q5.\nM30\n").Missing);

    [Fact]
    public void Several_programs_in_a_file_are_programs_of_their_own()
    {
        var text = Programs.Read("%\nO1 (MAIN)\nG54 M98 P100\nM30\n(HOLES)\nO100 (SUB)\nG81 X1. Z-2. R1. F50\nM99\nO101\nG1 X1.\nM99\n%\n");
        Assert.Equal(("O1", "MAIN", 12), (text.Program, text.Title, text.Lines));
        Assert.Equal(["O100", "O101"], text.Subprograms.Select(sub => sub.Program));
        Assert.Equal(["SUB", null], text.Subprograms.Select(sub => sub.Title));
        Assert.Equal([3, 4], text.Subprograms.Select(sub => sub.Lines));
        Assert.All(text.Subprograms, sub => Assert.Equal(text.Sha256, sub.Sha256));
        Assert.NotEqual(text.Subprograms[0].WithoutCommentsSha256, text.Subprograms[1].WithoutCommentsSha256);
    }

    [Fact]
    public void A_sub_program_may_stand_before_the_program_it_belongs_to()
    {
        var text = Programs.Read("o100 sub\ng1 x1.\no100 endsub\ng54\no100 call\nm2\n", Programs.Published);
        Assert.Equal("made-up", text.Program);
        Assert.Equal("O100", Assert.Single(text.Subprograms).Program);
        Assert.Equal(["O100"], text.Steps.Where(step => step.Calls is not null).Select(step => step.Calls));
    }

    private static string Said(ProbingMove move)
    {
        var register = move.RegisterUnknown ? "?" : move.Register?.ToString() ?? "null";
        var sets = move.Sets.Count == 0 ? "" : " sets " + string.Concat(move.Sets);
        return $"{move.Kind} {Shown(move.Search)} from {Shown(move.Standoff)} in {register}{sets}";
    }

    private static string Shown(decimal? value) => value is { } known ? Trimmed(FormattableString.Invariant($"{known}")) : "null";

    // Zeros behind the last digit say how many places a value was written or worked out with; these tests do not ask.
    private static string Trimmed(string text) => System.Text.RegularExpressions.Regex.Replace(text, @"(\.\d*?)0+(?=\D|$)", "$1")
        .Replace(". ", " ", StringComparison.Ordinal).TrimEnd('.').Replace(".?", "?", StringComparison.Ordinal);
}
