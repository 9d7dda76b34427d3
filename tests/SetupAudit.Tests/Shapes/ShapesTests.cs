using System.Text.Json;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

public sealed class ShapesTests
{
    private static readonly DateTimeOffset Morning = new(2026, 3, 2, 7, 10, 0, TimeSpan.Zero);
    private static readonly SourceLine Line = new("shares/mill-3/offsets/0710.nc", new string('a', 64), 4);

    [Fact]
    public void A_change_has_the_fields_of_the_contract_and_the_digits_of_the_file()
    {
        Same("""
            {"change":"mill-3@20260302-071420/G54.X","machine":"mill-3","register":"G54","axis":"X","tool":null,"of":null,
            "before":-310.2000,"after":-312.45,"delta":-2.2500,"unit":"mm","from":"2026-03-02T07:10:00Z",
            "to":"2026-03-02T07:14:20.5Z","arrival":"mill-3@20260302-071420/a","file":"shares/mill-3/offsets/0710.nc",
            "sha256":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","line":4,
            "setup":"mill-3@20260302-071000","by":"measured","bySays":"print-out line 14, feature corner-1",
            "touched":true,"adjustment":false}
            """, ShapeBody.Of(ChangeView.Of(SomeChange())));
    }

    [Fact]
    public void A_first_sight_has_null_where_nothing_was_known()
    {
        var body = Parse(ChangeView.Of(SomeChange() with { Before = null, FromUtc = null, Touched = false, BySays = null }));

        Assert.Equal(JsonValueKind.Null, body.GetProperty("before").ValueKind);
        Assert.Equal(JsonValueKind.Null, body.GetProperty("delta").ValueKind);
        Assert.Equal(JsonValueKind.Null, body.GetProperty("from").ValueKind);
        Assert.True(ChangeView.Read(body).IsFirstSight);
    }

    [Fact]
    public void A_change_of_a_tool_names_the_tool_and_the_part()
    {
        var body = Parse(ChangeView.Of(SomeChange() with { Key = OffsetKey.OfTool(3, ToolPart.LengthWear) }));

        Assert.Equal(3, body.GetProperty("tool").GetInt32());
        Assert.Equal("length-wear", body.GetProperty("of").GetString());
        Assert.Equal(JsonValueKind.Null, body.GetProperty("register").ValueKind);
    }

    [Fact]
    public void A_finding_gives_one_value_or_a_range_and_its_causes()
    {
        Same("""
            {"finding":"mill-3@20260302-071000/outside-sheet/G54.Z","rule":"outside-sheet","severity":"high","machine":"mill-3",
            "setup":"mill-3@20260302-071000","register":"G54","axis":"Z","tool":null,"of":null,"value":-299.0,
            "expected":[-330,-300],"unit":"mm","message":"Z of G54 is -299.0 mm.","at":"2026-03-02T07:10:00Z",
            "evidence":[{"file":"shares/mill-3/offsets/0710.nc",
            "sha256":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","line":4}],
            "causes":[{"cause":"sign-flipped","probability":0.75,"predicted":299.0,"because":"The other sign gives 299.0 mm."}]}
            """, ShapeBody.Of(FindingView.From(SomeFinding(), Unit.Millimetre)));
        var single = SomeFinding() with { ExpectedRange = null, Expected = -310.20m };
        Assert.Equal(-310.20m, Parse(FindingView.From(single, Unit.Millimetre)).GetProperty("expected").GetDecimal());
    }

    [Theory]
    [InlineData(Axis.Z, "inch")]
    [InlineData(Axis.B, "deg")]
    public void The_unit_of_a_finding_follows_from_axis_and_machine(Axis axis, string unit)
    {
        var body = Parse(FindingView.From(SomeFinding() with { Axis = axis }, Unit.Inch));

        Assert.Equal(unit, body.GetProperty("unit").GetString());
    }

    [Fact]
    public void An_arrival_tells_where_its_first_fault_is()
    {
        var body = Parse(ArrivalView.Of(SomeArrival(), ArrivalStatus.Partial, new Fault(3, 9, "X has no number")));

        Assert.Equal("partial", body.GetProperty("status").GetString());
        Assert.Equal(3, body.GetProperty("line").GetInt32());
        Assert.Equal(9, body.GetProperty("column").GetInt32());
        Assert.Equal("X has no number", body.GetProperty("reason").GetString());
    }

    [Fact]
    public void A_fault_of_the_whole_file_has_neither_line_nor_column()
    {
        var body = Parse(ArrivalView.Of(SomeArrival(), ArrivalStatus.Unreadable, new Fault(0, 0, "The file is empty.")));

        Assert.Equal(JsonValueKind.Null, body.GetProperty("line").ValueKind);
        Assert.Equal(JsonValueKind.Null, body.GetProperty("column").ValueKind);
    }

    [Fact]
    public void A_program_keeps_null_where_it_is_not_known_whether_it_cuts()
    {
        var body = Parse(SomeProgram());

        Assert.Equal(JsonValueKind.Null, body.GetProperty("registers")[1].GetProperty("cuts").ValueKind);
        Assert.Equal(JsonValueKind.Null, body.GetProperty("writes")[0].GetProperty("value").ValueKind);
        Assert.Equal("O7100", body.GetProperty("missing")[0].GetString());
    }

    public static TheoryData<IShape> Everything =>
    [
        ChangeView.Of(SomeChange()),
        FindingView.From(SomeFinding(), Unit.Millimetre),
        ArrivalView.Of(SomeArrival(), ArrivalStatus.Partial, new Fault(3, 9, "X has no number")),
        MeasurementView.Of(SomeMeasurement(), Unit.Inch),
        CycleView.Of(SomeCycle()),
        SomeProgram(),
        new CoverageView { Machine = "mill-3", Source = "shares/*.nc", Tells = ["registers"], CannotTell = ["who"] },
    ];

    [Theory]
    [MemberData(nameof(Everything))]
    public void What_is_written_reads_back_the_same(IShape shape)
    {
        var body = ShapeBody.Of(shape);

        var again = shape switch
        {
            ChangeView => ShapeBody.Of(ShapeBody.Read<ChangeView>(body)),
            FindingView => ShapeBody.Of(ShapeBody.Read<FindingView>(body)),
            ArrivalView => ShapeBody.Of(ShapeBody.Read<ArrivalView>(body)),
            MeasurementView => ShapeBody.Of(ShapeBody.Read<MeasurementView>(body)),
            CycleView => ShapeBody.Of(ShapeBody.Read<CycleView>(body)),
            ProgramView => ShapeBody.Of(ShapeBody.Read<ProgramView>(body)),
            _ => ShapeBody.Of(ShapeBody.Read<CoverageView>(body)),
        };

        Assert.Equal(body, again);
    }

    [Theory]
    [InlineData("-310.2000")]
    [InlineData("0.0000")]
    [InlineData("12345678901234567890.12345678")]
    public void A_number_keeps_its_digits_through_writing_and_reading(string digits)
    {
        var value = decimal.Parse(digits, System.Globalization.CultureInfo.InvariantCulture);
        var body = ShapeBody.Of(ChangeView.Of(SomeChange() with { After = value }));

        Assert.Contains($"\"after\":{digits},", body, StringComparison.Ordinal);
        Assert.Contains($"\"after\":{digits},", ShapeBody.Of(ShapeBody.Read<ChangeView>(body)), StringComparison.Ordinal);
    }

    [Fact]
    public void Control_characters_of_a_hostile_name_are_escaped()
    {
        var hostile = SomeArrival() with { File = "a\u001b[2J\"\r\n\u009b.nc" };
        var body = ShapeBody.Of(ArrivalView.Of(hostile, ArrivalStatus.Read, null));

        Assert.DoesNotContain(body, char.IsControl);
        Assert.Equal(hostile.File, ShapeBody.Read<ArrivalView>(body).File);
    }

    private static void Same(string expected, string body) =>
        Assert.Equal(expected.ReplaceLineEndings(""), body);

    private static JsonElement Parse(IShape shape) => JsonElement.Parse(ShapeBody.Of(shape));

    private static Change SomeChange() => new()
    {
        Id = "mill-3@20260302-071420/G54.X",
        Machine = "mill-3",
        Key = OffsetKey.Datum(Register.System(1), Axis.X),
        Before = -310.2000m,
        After = -312.45m,
        Unit = Unit.Millimetre,
        FromUtc = Morning,
        ToUtc = Morning.AddSeconds(260.5),
        Arrival = "mill-3@20260302-071420/a",
        Source = Line,
        By = ChangedBy.Measured,
        BySays = "print-out line 14, feature corner-1",
        Touched = true,
        Setup = "mill-3@20260302-071000",
    };

    private static Finding SomeFinding() => new()
    {
        Id = "mill-3@20260302-071000/outside-sheet/G54.Z",
        Rule = "outside-sheet",
        Severity = Severity.High,
        Machine = "mill-3",
        Setup = "mill-3@20260302-071000",
        Register = Register.System(1),
        Axis = Axis.Z,
        Value = -299.0m,
        ExpectedRange = new Bounds(-330, -300),
        Message = "Z of G54 is -299.0 mm.",
        AtUtc = Morning,
        Evidence = [Line],
        Causes = [new Cause("sign-flipped", 0.75m, 299.0m, "The other sign gives 299.0 mm.")],
    };

    private static Arrival SomeArrival() => new()
    {
        Machine = "mill-3",
        Source = 0,
        File = "shares/mill-3/offsets/0710.nc",
        Sha256 = new string('a', 64),
        SizeBytes = 6_000_000_000,
        ModifiedUtc = Morning,
        MomentUtc = Morning,
        ReceivedUtc = Morning.AddSeconds(3),
    };

    private static Measurement SomeMeasurement() => new()
    {
        Machine = "mill-3",
        Setup = "mill-3@20260302-071000",
        AtUtc = Morning,
        Feature = "bore-1",
        Register = Register.Extended(7),
        Size = 25.0010m,
        Angle = -0.05m,
        Nominal = 25m,
        Low = 24.98m,
        Source = Line,
    };

    private static Cycle SomeCycle() => new()
    {
        Machine = "mill-3",
        Program = "O2041",
        StartUtc = Morning,
        EndUtc = Morning.AddMinutes(12),
        Ended = CycleEnding.Aborted,
        Serial = "A-17",
        Count = 3,
        Source = Line,
    };

    private static ProgramView SomeProgram()
    {
        var text = new ProgramText
        {
            Program = "O2041",
            Title = "PUMP COVER",
            Units = Unit.Inch,
            Sha256 = new string('b', 64),
            WithoutCommentsSha256 = new string('c', 64),
            File = "shares/mill-3/programs/O2041.nc",
            ModifiedUtc = Morning,
            Lines = 812,
        };
        var scope = new ProgramScope
        {
            Registers =
            [
                new RegisterScope { Register = Register.System(1), Cuts = true, Line = 3 },
                new RegisterScope { Register = Register.System(9), Line = 9 },
            ],
            Tools = [new ToolScope(3, 3, null, 12)],
            Writes = [new ProgramWrite(5, OffsetKey.Datum(Register.Common, Axis.Z), null, false, false, "G10 L2 P0 Z#5")],
            Probing = [new ProbingMove { Line = 6, Kind = "straight", Search = 25.0m }],
            Missing = ["O7100"],
        };
        return ProgramView.Of("mill-3", text, scope);
    }
}
