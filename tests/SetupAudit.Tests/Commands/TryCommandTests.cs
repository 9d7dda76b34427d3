using System.Text.Json;

namespace SetupAudit.Commands;

public sealed class TryCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_dump_is_shown_line_by_line_and_nothing_is_kept()
    {
        _bench.Write("offsets/a.nc", CommandBench.Dump);

        var (status, written, errors) = await _bench.RunAsync("try", _bench["offsets/a.nc"], "--machine", "mill-3");

        Assert.Equal((0, ""), (status, errors));
        Assert.Contains("read as data-setting of mill-3", written, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^\s+4\s+\d+\s+G54\.X\s+-412\.250 mm$", written);
        Assert.Contains("3 readings, 0 faults: read", written, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_bench["audit"]));
    }

    [Fact]
    public async Task A_fault_has_its_line_and_column_and_ends_with_1()
    {
        _bench.Write("offsets/a.nc", "%\nG10 L2 P1 X-412.250\nG10 L2 P1 Y--5\n%\n");

        var (status, written, _) = await _bench.RunAsync("try", _bench["offsets/a.nc"], "--machine", "mill-3", "--json");

        Assert.Equal(1, status);
        var tried = JsonElement.Parse(written);
        Assert.Equal("partial", tried.GetProperty("status").GetString());
        Assert.Equal(-412.250m, tried.GetProperty("readings")[0].GetProperty("value").GetDecimal());
        Assert.Equal(3, tried.GetProperty("faults")[0].GetProperty("line").GetInt32());
        Assert.NotEqual(0, tried.GetProperty("faults")[0].GetProperty("column").GetInt32());
    }

    [Fact]
    public async Task A_program_tells_what_it_cuts_and_writes()
    {
        _bench.Write("O2041.nc", "%\nO2041 (PUMP COVER)\nG21 G90 G54\nT3 M6\nG43 H3\nG0 X0 Y0 Z50.\nG1 Z-5. F200.\nG10 L2 P2 X-5.\nM30\n%\n");

        var (status, written, errors) = await _bench.RunAsync(
            "try", _bench["O2041.nc"], "--machine", "mill-3", "--read", "program", "--json");

        Assert.True(status == 0, errors);
        var program = JsonElement.Parse(written).GetProperty("program");
        Assert.Equal("O2041", program.GetProperty("program").GetString());
        Assert.True(program.GetProperty("registers")[0].GetProperty("cuts").GetBoolean());
        Assert.Equal("G55", program.GetProperty("writes")[0].GetProperty("register").GetString());
    }

    [Fact]
    public async Task A_sheet_tells_what_it_asks_for()
    {
        _bench.Write("O2041.json", """
            { "Units": "mm", "Datums": [ { "Register": "G54", "Axes": "XYZ", "At": "back-left-top",
              "Expect": { "Z": [-330, -300] } } ], "Tools": [ { "Tool": 3, "Length": [118, 126] } ] }
            """);

        var (status, written, errors) = await _bench.RunAsync(
            "try", _bench["O2041.json"], "--machine", "mill-3", "--read", "sheet");

        Assert.Equal((0, ""), (status, errors));
        Assert.Contains("G54    axes XYZ, at back-left-top, Z -330 to -300", written, StringComparison.Ordinal);
        Assert.Contains("T3     length 118 to 126", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_no_watched_folder_takes_asks_for_how_to_read_it()
    {
        _bench.Write("offsets.txt", "x");

        var (status, _, errors) = await _bench.RunAsync("try", _bench["offsets.txt"], "--machine", "mill-3");

        Assert.Equal(2, status);
        Assert.Contains("say --read. It watches offsets/*.nc as data-setting", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_copy_elsewhere_is_read_as_its_name_says()
    {
        _bench.Write("elsewhere/a.nc", CommandBench.Dump);

        var (status, _, _) = await _bench.RunAsync("try", _bench["elsewhere/a.nc"], "--machine", "mill-3");

        Assert.Equal(0, status);
    }

    [Theory]
    [InlineData("nowhere.nc", "is not there")]
    [InlineData(".", "is a folder; give a file")]
    public async Task What_is_no_file_is_a_fault_of_the_command_line(string name, string says)
    {
        var (status, _, errors) = await _bench.RunAsync("try", _bench[name], "--machine", "mill-3");

        Assert.Equal(2, status);
        Assert.Contains(says, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unknown_way_to_read_names_those_that_there_are()
    {
        var (status, _, errors) = await _bench.RunAsync("try", "x", "--machine", "mill-3", "--read", "csv");

        Assert.Equal(2, status);
        Assert.Contains("allowed are data-setting, parameters, table, print-out, program, sheet", errors, StringComparison.Ordinal);
    }
}
