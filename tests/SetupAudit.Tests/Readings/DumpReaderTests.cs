using System.Globalization;
using System.Text;
using CsCheck;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>What holds of every reader, whatever the bytes are.</summary>
public sealed class DumpReaderTests
{
    private static readonly SourceKind[] Kinds = [SourceKind.DataSetting, SourceKind.Parameters, SourceKind.Table];

    private static readonly Gen<SourceKind> AnyKind = Gen.Int[0, 2].Select(index => Kinds[index]);

    private static readonly Gen<byte[]> AlmostDump = Gen.String[
        Gen.Char["GLPXYZRgx0123456789.-+#=/%()[];,\t\"\r\n\n  e"], 0, 300].Select(Encoding.ASCII.GetBytes);

    public static TheoryData<SourceKind> AllKinds => [.. Kinds];

    [Fact]
    public void Random_bytes_give_a_result_and_lines_lie_within_the_file() =>
        Gen.Select(AnyKind, Gen.OneOf(Gen.Byte.Array[0, 400], AlmostDump)).Sample((kind, bytes) => Check(kind, bytes));

    [Fact]
    public void A_damaged_dump_gives_a_result_and_lines_lie_within_the_file()
    {
        const string blocks = "%\nO9001\nG90 G21\nG10 L2 P1 X-310.2000 Y-205.1150\nG10 L10 P3 R120.5\n/G10 L2 P2 X1.\nM30\n%\n";
        const string parameters = "%\n#5221 = -310.2000\nN5222 5\n5223 #0\n%\n";
        const string table = "Register;X;Y\r\nG54;-310,2;\"5\"\r\nG55;1;2\r\n";
        var damage = Gen.Select(Gen.Int[0, 1000], Gen.Byte, Gen.Int[0, 2]).Array[0, 5];
        Gen.Select(Gen.Int[0, 2], damage).Sample((which, edits) =>
        {
            var bytes = Encoding.ASCII.GetBytes(which switch { 0 => blocks, 1 => parameters, _ => table }).ToList();
            foreach (var (at, code, how) in edits)
            {
                if (bytes.Count == 0) break;
                if (how == 0) bytes[at % bytes.Count] = code;
                else if (how == 1) bytes.Insert(at % bytes.Count, code);
                else bytes.RemoveRange(at % bytes.Count, Math.Min(3, bytes.Count - at % bytes.Count));
            }
            Check(Kinds[which], [.. bytes]);
        });
    }

    [Fact]
    public void A_dump_and_another_behind_it_say_what_each_says()
    {
        var block = Gen.Select(Gen.Int[1, 9], Gen.Char["XYZABC"], Gen.Decimal[-999m, 999m], Gen.Bool).Select((place, letter, value, inch) =>
            string.Create(CultureInfo.InvariantCulture,
                $"{(inch ? "G20" : "G21")} G90 G10 L2 P{place} {letter}{decimal.Round(value, 4):F4}\n"));
        Gen.Select(block.Array[1, 8], block.Array[1, 8]).Sample((first, second) =>
        {
            var (one, two) = (string.Concat(first), string.Concat(second));
            var both = Dumps.DataSetting(one + two);
            Assert.Equal(
                Dumps.DataSetting(one).Offsets.Concat(
                    Dumps.DataSetting(two).Offsets.Select(reading => reading with { Line = reading.Line + first.Length })),
                both.Offsets);
        });
    }

    [Fact]
    public void What_stands_behind_a_fault_changes_nothing_before_it() =>
        AlmostDump.Sample(tail =>
        {
            byte[] head = [.. "G10 L2 P1 X-310.2000\nG10 L2 P2 Y5.\n\"\n"u8];
            var result = Dumps.Read(SourceKind.DataSetting, [.. head, .. tail]);
            Assert.Equal("G54.X=-310.2000 G55.Y=5", Dumps.Said(result));
            Assert.Equal((3, 1), (result.Faults[0].Line, result.Faults[0].Column));
        });

    [Fact]
    public void Case_and_blanks_between_words_change_no_value() =>
        Gen.Select(Gen.Bool.Array[60], Gen.Int[0, 2].Array[60]).Sample((lower, blanks) =>
        {
            const string block = "G90G21G10L2P1X-310.2000Y+7.50Z.5";
            var text = string.Concat(block.Select((letter, index) =>
                new string(' ', blanks[index]) + (lower[index] ? char.ToLowerInvariant(letter) : letter)));
            Assert.Equal("G54.X=-310.2000 G54.Y=7.50 G54.Z=0.5", Dumps.Said(Dumps.DataSetting(text)));
        });

    [Fact]
    public void The_digits_of_a_value_come_through_every_reader() =>
        Gen.Select(Gen.Long[-9_999_999_999, 9_999_999_999], Gen.Int[1, 6]).Sample((digits, scale) =>
        {
            var value = unchecked(
                new decimal((int)Math.Abs(digits), (int)(Math.Abs(digits) >> 32), 0, digits < 0, (byte)scale));
            var text = value.ToString(CultureInfo.InvariantCulture);
            var said = "G54.X=" + text;
            Assert.Equal(said, Dumps.Said(Dumps.DataSetting($"G10 L2 P1 X{text}")));
            Assert.Equal(said, Dumps.Said(Dumps.Parameters($"5221 {text}")));
            Assert.Equal(said, Dumps.Said(Dumps.Table($"Register,X\nG54,{text}")));
        });

    [Theory]
    [MemberData(nameof(AllKinds))]
    public void An_empty_file_and_one_of_NULs_say_so(SourceKind kind)
    {
        Assert.Equal([new Fault(0, 0, "the file is empty")], Dumps.Read(kind, []).Faults);
        Assert.Equal([new Fault(0, 0, "all 7 bytes of the file are NUL")], Dumps.Read(kind, new byte[7]).Faults);
    }

    [Theory]
    [MemberData(nameof(AllKinds))]
    public void An_endless_line_is_a_fault(SourceKind kind)
    {
        foreach (var filler in "1 (X,;-\"")
        {
            var bytes = new byte[4_000_000];
            bytes.AsSpan().Fill((byte)filler);
            var result = Dumps.Read(kind, bytes);
            Assert.Equal(ArrivalStatus.Unreadable, result.Status);
            Assert.NotEmpty(result.Faults[0].Reason);
        }
    }

    [Theory]
    [InlineData(SourceKind.DataSetting, "G10 L2 P1 X1.\n")]
    [InlineData(SourceKind.Parameters, "5221 1\n")]
    [InlineData(SourceKind.Table, "G54,1\n")]
    public void A_file_that_says_more_than_any_control_holds_is_not_read_to_its_end(SourceKind kind, string line)
    {
        var text = (kind == SourceKind.Table ? "Register,X\n" : "") + string.Concat(Enumerable.Repeat(line, 250_000));
        var result = Dumps.Read(kind, Encoding.ASCII.GetBytes(text));
        Assert.Equal(200_001, result.Offsets.Count);
        Assert.Equal("the file has said 200000 values, more than any control holds; reading stops here",
            Assert.Single(result.Faults).Reason);
    }

    [Fact]
    public void Twenty_thousand_nested_parentheses_are_one_fault()
    {
        var result = Dumps.DataSetting("G10 L2 P1 X1.\n" + new string('(', 20_000) + new string(')', 20_000));
        Assert.Equal("G54.X=1", Dumps.Said(result));
        Assert.Equal([new Fault(2, 2, "a parenthesis opens inside a comment; comments do not nest")], result.Faults);
        var brackets = Dumps.DataSetting("G10 L2 P1 X" + new string('[', 20_000) + "1" + new string(']', 20_000));
        Assert.Equal([new Fault(1, 11, "X is given by an expression; a dump holds plain numbers")], brackets.Faults);
    }

    private static void Check(SourceKind kind, byte[] bytes)
    {
        var result = Dumps.Read(kind, bytes, Dumps.Lathe);
        var lines = bytes.Count(code => code is (byte)'\n' or (byte)'\r') + 1;
        // Bytes of even parity or in wide characters hide line ends; they become no more of them.
        if (bytes.Any(code => code >= 0x80)) lines = bytes.Length + 1;
        Assert.All(result.Offsets, reading =>
        {
            Assert.InRange(reading.Line, 1, lines);
            Assert.InRange(reading.Column, 1, bytes.Length * 3);
            Assert.Equal(reading.Key, OffsetKey.FromCode(reading.Key.Code));
        });
        Assert.All(result.Faults, fault =>
        {
            Assert.InRange(fault.Line, 0, lines);
            Assert.NotEmpty(fault.Reason);
        });
        Assert.True(result.Offsets.Count > 0 || result.Measured.Count > 0 || result.Status != ArrivalStatus.Partial);
    }
}
