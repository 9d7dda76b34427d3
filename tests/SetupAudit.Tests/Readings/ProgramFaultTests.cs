using System.Text;

namespace SetupAudit.Readings;

/// <summary>What no program should hold, and files hold all the same.</summary>
public sealed class ProgramFaultTests
{
    [Theory]
    [InlineData("G54\nX--5\n", "2:3 X has no number: \"-\" stands where one was expected")]
    [InlineData("G54\nZ.\n", "2:3 Z has no number: the end of the line stands where one was expected")]
    [InlineData("G54\nG1 X1e999\n", "2:6 ")]
    [InlineData("G54\nG10 L2 P99999999999 X1.\n", "2:8 P99999999999 is beyond any machine")]
    [InlineData("G54\nG1 X[1/0]\n", "2:8 this divides by zero")]
    [InlineData("G54\nG1 X[1+[2]\n", "2:5 a bracket opens here and is not closed on its line")]
    [InlineData("G54\nG1 X1. (not closed\n", "2:8 a comment opens here and is not closed on its line")]
    [InlineData("G54\n#=5\n", "2:2 ")]
    [InlineData("G54\n#1 5\n", "2:")]
    [InlineData("G54\nG10 L2 P10 X1.\n", "2:8 P names no register or tool here; P0 to P9 do")]
    [InlineData("G54\nG10 L2 P1.5 X1.\n", "2:8 P names no register")]
    [InlineData("G54\nG10 L2 X1.\n", "2:1 P is missing")]
    [InlineData("%\nG54\nG1 X1.\n", "3:1 the file opened with % and ends here without a closing %")]
    [InlineData("", "0:0 the file is empty")]
    public void A_fault_has_its_line_its_column_and_its_reason(string program, string begins)
    {
        var text = Programs.Read(program);
        Assert.StartsWith(begins, Programs.Faults(text), StringComparison.Ordinal);
        Assert.Single(text.Faults);
    }

    [Theory]
    [InlineData("X1Y--2\n")]
    [InlineData("(a (b) c)\n")]
    [InlineData("%\nG54\nM30\n")]
    [InlineData("G1 X10. ,R2. (corner)\nG1 X1. ,C.5\n")]
    [InlineData("G33 Z-10.E1.5\n")]
    [InlineData("N000009 G1 X1.\n")]
    [InlineData("POPEN\nBPRNT[SIZE#101[44]*X]\nPCLOS\n")]
    [InlineData("#3000=1(WRONG FIXTURE)\n")]
    [InlineData("leader text, no block at all!\n%\nG54\nM30\n%\ntrailing text, no block at all!\n")]
    [InlineData("M30\nthis is behind the end--\n")]
    public void What_shops_write_although_it_is_not_published_is_no_fault(string program)
    {
        var text = Programs.Read(program);
        if (program.Contains("--", StringComparison.Ordinal) && !program.StartsWith('M')) Assert.NotEmpty(text.Faults);
        else Assert.Empty(text.Faults);
    }

    [Theory]
    [InlineData("G10 L2 P1 X--5 Y3.\nG10 L2 P2 X1.\n", "G54.X=null G55.X=1")]
    [InlineData("G10 L2 P1 X1. Y[1/0] Z3.\n", "G54.X=1 G54.Y=null")]
    [InlineData("#1=5.\n#1=[2+\nG10 L2 P1 X#1\n", "G54.X=null")]
    [InlineData("#1=5.\nG1 X--5 #1=6\nG10 L2 P1 X#1\n", "G54.X=null")]
    [InlineData("#1=5.\nG1 X--5\nG10 L2 P1 X#1\n", "G54.X=5")]
    [InlineData("G54 G1 X4.\nY--5\nG92 X7.\n", "G92.X=null")]
    public void What_came_before_a_fault_counts_and_nothing_behind_it_is_guessed(string program, string writes) =>
        Assert.Equal(writes, Programs.Writes(program).Replace(".0", "", StringComparison.Ordinal));

    [Fact]
    public void A_register_named_by_a_word_that_cannot_be_read_may_be_any()
    {
        Assert.Equal("G54 may cut", Programs.Registers("G54 G0 X1.\nX--2 G55\nG1 X2.\n"));
        Assert.Equal("G54 cuts", Programs.Registers("G54 G1 X1.\nX--2\nX3.\n"));
    }

    [Theory]
    [InlineData('(', ')', "parentheses nest more than 8 deep")]
    [InlineData('[', ']', "nest more than 64 deep")]
    [InlineData('(', ' ', "parentheses nest more than 8 deep")]
    public void Twenty_thousand_nested_brackets_are_one_fault(char open, char close, string why)
    {
        var text = Programs.Read($"G54\nG1 X{new string(open, 20_000)}1{new string(close, 20_000)}\nG1 Y1.\n");
        var fault = Assert.Single(text.Faults);
        Assert.Equal(2, fault.Line);
        Assert.Contains(why, fault.Reason, StringComparison.Ordinal);
        Assert.True(Assert.Single(text.Steps).Cuts);
    }

    [Theory]
    [InlineData(10_000_000, 7)]
    [InlineData(70_000, 70_000)]
    [InlineData(70_000, 65_536)]
    public void A_line_without_end_is_read_to_its_limit_and_passed_over(int size, int piece)
    {
        var bytes = Encoding.ASCII.GetBytes("G54 G0\nG1 X1." + new string(' ', size) + "Y2.\nZ3.\n");
        var text = Programs.Read(bytes, piece: piece < 100 ? 65_536 * piece : piece);
        Assert.Equal("2:65537 the line is longer than 65536 bytes, which no block is", Programs.Faults(text));
        Assert.Equal("X, Z", string.Join(", ", Assert.Single(text.Steps).Axes));
        Assert.Equal(3, text.Lines);
    }

    [Fact]
    public void A_program_with_a_hundred_thousand_faults_lists_some_and_says_how_many_more()
    {
        var text = Programs.Read(string.Concat(Enumerable.Repeat("X--1\n", 100_000)));
        Assert.Equal(ProgramFaults.ListedMost + 1, text.Faults.Count);
        Assert.Equal((201, "from here on 99800 more faults were found and are not listed"),
            (text.Faults[^1].Line, text.Faults[^1].Reason));
    }

    [Fact]
    public void Lists_are_bounded_and_say_so()
    {
        var writes = Programs.Read(string.Concat(Enumerable.Repeat("G10 L2 P1 X1.\n", 20_000)));
        Assert.Equal(ProgramLimits.WritesMost, writes.Writes.Count);
        Assert.StartsWith("10001:1 the file sets more than 10000 offsets", Programs.Faults(writes), StringComparison.Ordinal);

        var probing = Programs.Read(string.Concat(Enumerable.Repeat("G38.2 Z-1.\n", 20_000)));
        Assert.Equal(ProgramLimits.ProbingsMost, probing.Probing.Count);
        Assert.StartsWith("10001:1 the file probes more than 10000 times", Programs.Faults(probing), StringComparison.Ordinal);

        var steps = Programs.Read(string.Concat(Enumerable.Repeat("G54 G0 X1.\nG55 X1.\n", 20_000)) + "G54 G1 X1.\nG59 X1.\n");
        Assert.Equal(ProgramLimits.StepsMost + 1, steps.Steps.Count);
        Assert.StartsWith("10001:1 the file has more than 10000 stretches", Programs.Faults(steps), StringComparison.Ordinal);
        var shelf = new ProgramShelf();
        shelf.Add(steps);
        Assert.Equal("G54 cuts, G55 parks, G59 cuts",
            Programs.Registers(shelf.Scope(steps.Program, Programs.Modified) ?? throw new InvalidOperationException()));

        var many = Programs.Read(string.Concat(Enumerable.Range(1, 30)
            .Select(number => $"O{number}\n" + string.Concat(Enumerable.Repeat("G10 L2 P1 X1.\n", 1_000)))));
        Assert.Equal(ProgramLimits.WritesMost, many.Writes.Count + many.Subprograms.Sum(sub => sub.Writes.Count));

        var programs = Programs.Read(string.Concat(Enumerable.Range(1, 3000).Select(number => $"O{number}\nG54\nM99\n")));
        Assert.Equal(ProgramFile.SubprogramsMost, programs.Subprograms.Count);
        Assert.Contains("more than 1000 programs", Programs.Faults(programs), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_of_nothing_but_NULs_says_so() =>
        Assert.Equal("0:0 the file holds no text, only filler such as NULs", Programs.Faults(Programs.Read(new byte[100_000])));

    [Theory]
    [InlineData("utf-16", true)]
    [InlineData("utf-16", false)]
    [InlineData("utf-16BE", true)]
    [InlineData("utf-16BE", false)]
    [InlineData("utf-8", true)]
    [InlineData("parity", false)]
    [InlineData("nuls", false)]
    public void Wide_characters_marks_parity_and_NULs_do_not_matter(string form, bool mark)
    {
        const string program = "%\r\nO0041 (COVER)\r\nG54 G1 X12.5 Y-3.\r\nG10 L2 P1 X-310.2\r\nM30\r\n%\r\n";
        var plain = Programs.Read(Encoding.ASCII.GetBytes(program));
        var text = Programs.Read(Written(program, form, mark), piece: 13);
        Assert.Equal(plain.WithoutCommentsSha256, text.WithoutCommentsSha256);
        Assert.NotEqual(plain.Sha256, text.Sha256);
        Assert.Equal(("O41", "COVER", 6), (text.Program, text.Title, text.Lines));
        Assert.Equal("G54.X=-310.2", Programs.Writes(text.Writes));
        Assert.Empty(text.Faults);
    }

    private static byte[] Written(string text, string form, bool mark)
    {
        if (form == "nuls") return Encoding.ASCII.GetBytes(string.Join('\0', text.ToCharArray()) + "\0\0\0").Prepend((byte)0).ToArray();
        if (form == "parity")
            return [.. Encoding.ASCII.GetBytes(text).Select(code =>
                (byte)(code | (System.Numerics.BitOperations.PopCount(code) % 2 << 7)))];
        var encoding = Encoding.GetEncoding(form);
        return mark ? [.. encoding.GetPreamble(), .. encoding.GetBytes(text)] : encoding.GetBytes(text);
    }
}
