using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

public sealed class ParameterReaderTests
{
    public static TheoryData<string> Files => DumpFixture.Inputs("parameters");

    [Theory]
    [MemberData(nameof(Files))]
    public void A_dump_gives_what_its_pair_says(string file) =>
        DumpFixture.Check("parameters", SourceKind.Parameters, file);

    [Theory]
    [InlineData("5221 -310.2000")]
    [InlineData("#5221 = -310.2000")]
    [InlineData("#5221=-310.2000")]
    [InlineData("N5221 -310.2000")]
    [InlineData("n5221\t-310.2000\r\n")]
    [InlineData("  # 5221 =  -310.2000   X of G54")]
    [InlineData("5221 -310.2000(X of G54)")]
    public void A_parameter_may_be_written_in_three_ways(string line) =>
        Assert.Equal("G54.X=-310.2000", Dumps.Said(Dumps.Parameters(line)));

    [Fact]
    public void A_value_needs_no_point_and_never_counts_increments() =>
        Assert.Equal("G54.X=-310", Dumps.Said(Dumps.Parameters("5221 -310\n")));

    [Fact]
    public void The_published_table_names_every_axis_of_every_system()
    {
        // RS274/NGC 3.2.1, table 2 (NISTIR 6556): 5221 + 20 (n - 1) + i, i = 0 for X, up to 5386; 5211 to 5216 are G92.
        for (var system = 1; system <= 9; system++)
            for (var axis = 0; axis < 6; axis++)
            {
                Assert.True(ParameterTable.TryFind(Dumps.Mill, 5221 + 20 * (system - 1) + axis, out var key));
                Assert.Equal(OffsetKey.Datum(Register.System(system), Axis.X + axis), key);
            }
        Assert.True(ParameterTable.TryFind(Dumps.Mill, 5211, out var first));
        Assert.Equal(OffsetKey.Datum(Register.G92, Axis.X), first);
        foreach (var number in (int[])[1, 5161, 5201, 5206, 5210, 5217, 5220, 5227, 5240, 5387, 5401, int.MaxValue])
            Assert.False(ParameterTable.TryFind(Dumps.Mill, number, out _), $"{number} holds no offset");
    }

    [Theory]
    // Check values N16 (NISTIR 6556): system 9 C is 5386, system 6 Z is 5323.
    [InlineData("5386 1.5", "G59.3.C=1.5")]
    [InlineData("5323 1.5", "G59.Z=1.5")]
    public void The_addresses_of_the_standard_are_met(string line, string said) =>
        Assert.Equal(said, Dumps.Said(Dumps.Parameters(line)));

    [Theory]
    [InlineData("#5221 = \n", null)]
    [InlineData("#5221 = #0\n", null)]
    [InlineData("#5221 = -0.0\n", "0.0")]
    [InlineData("#5221 = 1.5E-02\n", "0.015")]
    [InlineData("#5221 = 2E2\n", "200")]
    public void A_value_may_be_none_and_may_have_an_exponent(string line, string? value)
    {
        var reading = Assert.Single(Dumps.Parameters(line).Offsets);
        Assert.Equal(value, reading.Value?.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("5222", 5, "the value of the parameter is missing")]
    [InlineData("5222 abc", 6, "a plain number was expected as the value of the parameter")]
    [InlineData("5222 1.2.3", 6, "a plain number was expected as the value of the parameter")]
    [InlineData("#5222 = --5", 9, "a plain number was expected as the value of the parameter")]
    [InlineData("#5222 = .", 9, "a plain number was expected as the value of the parameter")]
    [InlineData("5222 1e999", 6, "parameter 5222 has a value beyond any machine")]
    [InlineData("5222 1e99", 6, "parameter 5222 has a value beyond any machine")]
    [InlineData("99999999999 1.", 1, "no control numbers its parameters so high")]
    [InlineData("what is this", 1, "a parameter such as 5221 -310.2 was expected")]
    [InlineData("5221 2.", 6, "G54.X (parameter 5221) stood before, with another value")]
    public void What_cannot_be_read_is_a_fault_in_its_place(string line, int column, string reason)
    {
        var result = Dumps.Parameters($"5221 1.\n{line}\n5223 3.\n");
        Assert.Equal("G54.X=1", Dumps.Said(result));
        Assert.Equal([new Fault(2, column, reason)], result.Faults);
    }

    [Theory]
    [InlineData("%\n5221 1.\n5222 2.\n", 4, 1, "G54.X=1 G54.Y=2")]
    [InlineData("%\n5221 1.\n5222 -20", 3, 6, "G54.X=1")]
    [InlineData("5221 1.\n5222 -20\0\0\0\0", 2, 6, "G54.X=1")]
    public void A_dump_that_is_cut_off_keeps_what_came_before(string text, int line, int column, string said)
    {
        var result = Dumps.Parameters(text);
        Assert.Equal(said, Dumps.Said(result));
        var fault = Assert.Single(result.Faults);
        Assert.Equal((line, column), (fault.Line, fault.Column));
    }

    [Fact]
    public void Two_numbers_of_one_meaning_are_two_features()
    {
        var machine = Dumps.Mill with
        {
            Parameters = [
                new() { First = 6001, Is = "measured size" }, new() { First = 6002, Is = "measured size" },
                new() { First = 6003, Is = "edge angle" }],
        };
        var measured = Dumps.Parameters("6001 25.0040\n6002 25.0120\n6003 -0.031\n", machine).Measured;
        Assert.Equal(
            [("measured size #6001", 25.0040m, null), ("measured size #6002", 25.0120m, null), ("edge angle", null, -0.031m)],
            measured.Select(print => (print.Feature, print.Size, print.Angle)));
    }

    [Theory]
    [InlineData("dump of mill 3\n2026-03-02 07:10\n\n5221 1.\n", "G54.X=1", 0)]
    [InlineData("5221,-310.2\n5222 2.\n", "", 1)]
    [InlineData("#5221: -310.2\n5222 2.\n", "", 1)]
    public void A_header_is_passed_over_and_data_in_an_unknown_form_is_not(string text, string said, int faults)
    {
        var result = Dumps.Parameters(text);
        Assert.Equal(said, Dumps.Said(result));
        Assert.Equal(faults, result.Faults.Count);
    }

    [Fact]
    public void A_measured_parameter_without_a_value_is_no_measurement()
    {
        var machine = Dumps.Mill with { Parameters = [new() { First = 6001, Is = "measured size" }] };
        Assert.Empty(Dumps.Parameters("#6001 = #0\n", machine).Measured);
        Assert.Single(Dumps.Parameters("#6001 = 1e30\n", machine).Faults);
    }

    [Fact]
    public void A_file_without_a_parameter_says_what_was_expected() =>
        Assert.Equal(
            [new Fault(0, 0, "no parameter was found; lines such as 5221 -310.2 were expected")],
            Dumps.Parameters("some header\n\n").Faults);
}
