using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using CsCheck;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Support;
using SetupAudit.Units;

namespace SetupAudit.Readings;

public sealed class PrintOutReaderTests
{
    private const string Start = "^(?:(?<time>[-0-9]+ [:0-9]+) )?";

    private static readonly MachineConfig Mill = new()
    {
        Name = "mill-3",
        Kind = MachineKind.Mill,
        Units = Unit.Millimetre,
        Names = new Dictionary<string, Register>(StringComparer.OrdinalIgnoreCase) { ["EXT"] = Register.Common },
    };

    private static readonly JsonSerializerOptions Plain = new()
    {
        WriteIndented = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Converters = { new JsonStringEnumConverter(), new RegisterAsText() },
    };

    private static readonly PrintOutReader Shop = Reader(
        Line("CYCLE START( (?<program>O\\d+))?", "cycle-start"),
        Line("CYCLE END (?<program>O\\d+)", "cycle-end"),
        Line("TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)", "measured"),
        Line("SET (?<register>G5\\S+( P\\d+)?|EXT) (?<axis>[A-Z])(?<value>.*)", "datum-set") with { By = "entered" },
        Line("TOOL (?<tool>T[\\d.]+) LENGTH (?<value>\\S+)", "tool-set"),
        Line("SETTER (?<setter>.*)", "setter"),
        Line("PALLET (?<pallet>\\d)", "pallet-change"),
        Line("COUNT (?<count>\\S+)", "note"),
        Line("ALARM (?<code>\\d+) (?<text>.*), (?<axis>[XYZ]) (?<register>G5\\d)", "alarm") with { Kind = "surface-not-found" });

    public static TheoryData<string> Inputs { get; } = Fixtures.Of("print-out");

    [Theory]
    [MemberData(nameof(Inputs))]
    public void A_print_out_reads_as_its_pair_says(string name)
    {
        var result = Shop.Read(Fixtures.Bytes("print-out", name), 1);
        Fixtures.Expect("print-out", name, JsonSerializer.Serialize(result, Plain));
    }

    [Fact]
    public void Lines_count_on_from_the_pieces_first_line()
    {
        var result = Shop.Read("NOTHING\nCYCLE END O41\nSET G54 Q1\n"u8, 101);
        Assert.Equal(102, Assert.Single(result.Readings).Line);
        Assert.Equal(new Fault(103, 9, "\"Q\" is no axis"), Assert.Single(result.Faults));
    }

    [Fact]
    public void The_first_pattern_that_matches_wins()
    {
        var reader = Reader(Line("END (?<text>.*)", "note"), Line("END", "cycle-end"));
        Assert.Equal(PrintMeaning.Note, Assert.Single(reader.Read("END OF DAY"u8, 1).Readings).Means);
        Assert.Equal(PrintMeaning.CycleEnd, Assert.Single(reader.Read("END"u8, 1).Readings).Means);
    }

    [Fact]
    public void A_line_that_nothing_matches_is_neither_reading_nor_fault()
    {
        var result = Shop.Read("COOLANT LOW\n\n   \n"u8, 1);
        Assert.Empty(result.Readings);
        Assert.Equal(ArrivalStatus.Read, result.Status);
    }

    [Fact]
    public void A_cycle_start_without_a_program_leaves_it_open() =>
        Assert.Null(Assert.Single(Shop.Read("CYCLE START"u8, 1).Readings).Program);

    [Fact]
    public void A_group_that_caught_nothing_is_unknown_and_no_fault()
    {
        var reader = Reader(Line("SIZE (?<size>[^;]*);(?<time>.*)", "measured"));
        var line = Assert.Single(reader.Read("SIZE  ; "u8, 1).Readings);
        Assert.Null(line.Size);
        Assert.Null(line.AtUtc);
    }

    [Fact]
    public void Without_a_time_format_the_group_time_says_nothing()
    {
        var printOut = new PrintOutConfig { Name = "p", Lines = [Line("CYCLE END", "cycle-end")] };
        var reader = new PrintOutReader(printOut, Mill, Clock());
        Assert.Null(Assert.Single(reader.Read("2026-07-02 07:00:00 CYCLE END"u8, 1).Readings).AtUtc);
    }

    [Fact]
    public void A_time_is_in_the_shops_zone_and_by_the_machines_clock()
    {
        var machine = Mill with { ClockOffset = TimeSpan.FromMinutes(5) };
        var line = Assert.Single(Reader(machine, Line("CYCLE END", "cycle-end"))
            .Read("2026-07-02 07:00:00 CYCLE END"u8, 1).Readings);
        Assert.Equal(new DateTimeOffset(2026, 7, 2, 5, 55, 0, TimeSpan.Zero), line.AtUtc);
    }

    [Theory]
    [InlineData("25.0010", "25.0010")]
    [InlineData("25,001", "25.001")]
    [InlineData("-310.2000", "-310.2000")]
    [InlineData("- 310.2", "-310.2")]
    [InlineData("+.5", "0.5")]
    [InlineData("12.", "12")]
    [InlineData("0", "0")]
    [InlineData("25 001", null)]
    [InlineData("1,234.5", null)]
    [InlineData("1.2.3", null)]
    [InlineData("--5", null)]
    [InlineData("1e3", null)]
    [InlineData("25.001mm", null)]
    [InlineData("٢٥", null)]
    [InlineData("999999999999999999999", null)]
    public void A_number_keeps_its_digits_or_is_a_fault(string written, string? value)
    {
        var reader = Reader(Line("SIZE (?<size>.*)", "measured"));
        var result = reader.Read(Encoding.UTF8.GetBytes("SIZE " + written), 1);
        Assert.Equal(value, result.Readings.SingleOrDefault()?.Size?.ToString(System.Globalization.CultureInfo.InvariantCulture));
        if (value is null) Assert.Equal(new Fault(1, 6, $"size \"{written}\" is no number"), Assert.Single(result.Faults));
    }

    [Theory]
    [InlineData("3", 3)]
    [InlineData("T03", 3)]
    [InlineData("t12", 12)]
    [InlineData("3.000", 3)]
    [InlineData("T", null)]
    [InlineData("-3", null)]
    [InlineData("99999999", null)]
    public void A_tool_may_be_written_with_its_letter(string written, int? tool)
    {
        var reader = Reader(Line("TOOL (?<tool>.*)", "tool-set"));
        var result = reader.Read(Encoding.UTF8.GetBytes("TOOL " + written), 1);
        Assert.Equal(tool, result.Readings.SingleOrDefault()?.Tool);
        if (tool is null)
            Assert.Equal(new Fault(1, 6, $"tool \"{written}\" is no tool number"), Assert.Single(result.Faults));
    }

    [Fact]
    public void Every_group_goes_into_the_reading_under_its_own_name()
    {
        var values = PrintPattern.Groups.Where(group => group != "time").Select((group, index) => (group, Value: group switch
        {
            "register" => "G55",
            "axis" => "y",
            "program" => "O0041",
            "feature" or "code" or "text" or "setter" or "pallet" or "part" or "serial" or "order" or "operation" => group,
            _ => (index + 1).ToString(),
        })).ToList();
        var reader = Reader(Line(string.Join(';', values.Select(pair => $"(?<{pair.group}>[^;]*)")), "note"));
        var line = Assert.Single(reader.Read(Encoding.UTF8.GetBytes(string.Join(';', values.Select(pair => pair.Value))), 1).Readings);
        var json = JsonSerializer.SerializeToElement(line, Plain);
        foreach (var (group, value) in values)
            Assert.Equal(group == "program" ? "O41" : value.ToUpperInvariant(),
                json.GetProperty(char.ToUpperInvariant(group[0]) + group[1..]).ToString().ToUpperInvariant());
    }

    [Fact]
    public void Every_meaning_of_the_configuration_is_one_of_the_readings()
    {
        foreach (var name in PrintPattern.Meanings)
            Assert.Equal(name.Replace("-", ""), PrintLinePattern.MeaningOf(name).ToString(), ignoreCase: true);
        Assert.Equal(Enum.GetNames<PrintMeaning>().Length, PrintPattern.Meanings.Count);
    }

    [Fact]
    public void Faults_beyond_a_thousand_are_counted()
    {
        var text = string.Concat(Enumerable.Repeat("SET G54 Q1\n", 1500));
        var result = Shop.Read(Encoding.UTF8.GetBytes(text), 1);
        Assert.Equal(1001, result.Faults.Count);
        Assert.Equal(new Fault(0, 0, "and 500 more lines that cannot be read"), result.Faults[^1]);
    }

    [Fact]
    public void A_piece_of_nothing_but_filler_is_told()
    {
        var fault = Assert.Single(Shop.Read(new byte[4096], 12).Faults);
        Assert.Equal(new Fault(12, 1, "all 4096 bytes are NUL or other filler"), fault);
    }

    [Fact]
    public void Splitting_between_lines_changes_nothing()
    {
        var bytes = Fixtures.Bytes("print-out", "shop-prints.log");
        var whole = Shop.Read(bytes, 1);
        var ends = Enumerable.Range(0, bytes.Length).Where(at => bytes[at] == '\n').ToArray();
        Gen.Int[0, ends.Length - 1].Sample(cut =>
        {
            var first = Shop.Read(bytes.AsSpan(0, ends[cut] + 1), 1);
            var second = Shop.Read(bytes.AsSpan(ends[cut] + 1), cut + 2);
            Assert.Equal(whole.Readings, first.Readings.Concat(second.Readings));
        });
    }

    [Fact]
    public void No_bytes_make_it_throw()
    {
        var words = Encoding.Latin1.GetBytes("SET G54 X1 TOUCH SIZE ALARM 12\r\n,.-+ \0\u0080\u00e9");
        Gen.Int[0, words.Length - 1].Array[0, 120].Sample(indexes =>
        {
            Assert.NotNull(Shop.Read([.. indexes.Select(index => words[index])], 1));
        });
        Gen.Byte.Array[0, 200].Sample(bytes => { Assert.NotNull(Shop.Read(bytes, 1)); });
    }

    private static PrintPattern Line(string match, string means) => new() { Match = Start + match, Means = means };

    private static PrintOutReader Reader(params PrintPattern[] lines) => Reader(Mill, lines);

    private static PrintOutReader Reader(MachineConfig machine, params PrintPattern[] lines) =>
        new(new PrintOutConfig { Name = "shop-prints", Time = "yyyy-MM-dd HH:mm:ss", Lines = lines }, machine, Clock());

    private static ShopClock Clock() => new(new ShopConfig
    {
        Name = "Harrow Lane Works",
        TimeZone = "Europe/London",
        Store = new StoreConfig("", null),
        Machines = [Mill],
    });

    private sealed class RegisterAsText : JsonConverter<Register>
    {
        public override Register Read(ref Utf8JsonReader reader, Type type, JsonSerializerOptions options) =>
            throw new NotSupportedException("only written");

        public override void Write(Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }
}
