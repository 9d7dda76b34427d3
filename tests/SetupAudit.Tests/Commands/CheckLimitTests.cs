namespace SetupAudit.Commands;

public sealed class CheckLimitTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public CheckLimitTests() => _bench.Write("shop.json", """
        {
          "Shop": { "Name": "Harrow Lane Works (made up)", "TimeZone": "Europe/London" },
          "Store": { "Folder": "audit" },
          "Machines": {
            "mill-3": { "Kind": "mill", "Units": "mm", "Names": { "EXT": "COMMON" } },
            "mill-4": { "Kind": "mill", "Units": "inch" }
          },
          "Limits": [
            { "Machine": "mill-4", "Register": "G5*", "Axis": "Z", "Change": 0.02, "Unit": "inch" },
            { "Tool": "1?", "Change": 1 },
            { "Tool": "*", "Of": "length-wear", "Change": 0.1, "Within": "12:00:00", "Direction": "up" },
            { "Register": "G5*", "Axis": "Z", "Change": 0.5, "Unit": "mm", "Between": [-500, -100], "Applies": "running" },
            { "Register": "*", "Change": 5, "Unit": "mm", "Applies": "setup" }
          ]
        }
        """);

    public void Dispose() => _bench.Dispose();

    private async Task<string> AskedAsync(string limit)
    {
        var (status, written, errors) = await _bench.RunAsync("check", "--limit", limit);
        Assert.Equal((0, ""), (status, errors));
        return string.Join('\n', written.ReplaceLineEndings("\n").TrimEnd().Split('\n').Skip(1));
    }

    [Fact]
    public async Task A_datum_is_told_its_limit_and_why_the_earlier_ones_are_not() => Assert.Equal("""
        mill-3/G54.Z: Limits[3] holds: a finding where the value moves by more than 0.5 mm, or stands outside -500 to -100 mm while production runs.
          Limits[0] does not: it is for machine mill-4, not mill-3.
          Limits[1] does not: it is for tools, not registers.
          Limits[2] does not: it is for tools, not registers.
        """, await AskedAsync("mill-3/G54.Z"), ignoreLineEndingDifferences: true);

    [Fact]
    public async Task A_tool_is_told_its_limit() => Assert.Equal("""
        mill-3/T5.length-wear: Limits[2] holds: a finding where the value moves by more than 0.1 mm upwards in all within 12 h.
          Limits[0] does not: it is for machine mill-4, not mill-3.
          Limits[1] does not: it is for tool 1?, not 5.
        """, await AskedAsync("mill-3/T5.length-wear"), ignoreLineEndingDifferences: true);

    [Fact]
    public async Task What_no_limit_is_for_is_told_as_well() => Assert.Equal("""
        mill-3/G54.B: no limit holds.
          Limits[0] does not: it is for machine mill-4, not mill-3.
          Limits[1] does not: it is for tools, not registers.
          Limits[2] does not: it is for tools, not registers.
          Limits[3] does not: it is for axis Z, not B.
          Limits[4] does not: it is a length, and B is an angle.
        """, await AskedAsync("mill-3/G54.B"), ignoreLineEndingDifferences: true);

    [Theory]
    [InlineData("mill-4/G59.1.Z", "mill-4/G59.1.Z: Limits[0] holds: a finding where the value moves by more than 0.02 inch.")]
    [InlineData("mill-3/ext.Z", "mill-3/COMMON.Z: Limits[4] holds: a finding where the value moves by more than 5 mm while setting up.")]
    [InlineData("mill-4/T12.diameter", "mill-4/T12.diameter: Limits[1] holds: a finding where the value moves by more than 1 inch.")]
    public async Task The_first_line_says_what_holds(string asked, string first) =>
        Assert.Equal(first, (await AskedAsync(asked)).Split('\n')[0]);

    [Theory]
    [InlineData("mill-3/G59.1", 10, "mill-3/G59.1.")]
    [InlineData("mill-3/T5", 11, "mill-3/T5.")]
    public async Task A_whole_register_or_tool_is_told_part_by_part(string asked, int parts, string begins) =>
        Assert.Equal(parts, (await AskedAsync(asked)).Split('\n').Count(line => line.StartsWith(begins, StringComparison.Ordinal)));

    [Theory]
    [InlineData("mill-3", "--limit: 'mill-3' names no offset; allowed are a machine and an offset, such as mill-3/G54.Z, mill-3/G54, mill-3/T5.length-wear or mill-3/T5.")]
    [InlineData("mill-9/G54.Z", "--limit: the configuration has no machine mill-9; it has mill-3, mill-4.")]
    [InlineData("mill-3/G54.Q", "--limit: 'G54.Q' is no offset; allowed are a machine and an offset, such as mill-3/G54.Z, mill-3/G54, mill-3/T5.length-wear or mill-3/T5.")]
    public async Task What_cannot_be_asked_is_told(string asked, string fault)
    {
        var (status, _, errors) = await _bench.RunAsync("check", "--limit", asked);
        Assert.Equal((2, fault), (status, errors.TrimEnd()));
    }

    [Theory]
    [InlineData("\"Register\": \"G54\"", "Limits[0].Change: is missing; give Change or Between")]
    [InlineData("\"Register\": \"G54\", \"Between\": [1, 2], \"Direction\": \"up\"", "Limits[0].Direction: is for Change, which is not here")]
    [InlineData("\"Tool\": \"5\", \"Change\": 1, \"Unit\": \"deg\"", "Limits[0].Unit: \"deg\" is for axes that turn; tools have lengths")]
    [InlineData("\"Tool\": \"5\", \"Change\": 1, \"Direction\": \"left\"", "Limits[0].Direction: \"left\" is not allowed; use up or down")]
    public async Task A_limit_that_cannot_be_held_is_refused(string keys, string fault)
    {
        _bench.Write("shop.json", $$"""
            { "Shop": { "Name": "made up", "TimeZone": "Europe/London" }, "Store": { "Folder": "audit" },
              "Machines": { "mill-3": { "Kind": "mill", "Units": "mm" } }, "Limits": [ { {{keys}} } ] }
            """);
        var (status, _, errors) = await _bench.RunAsync("check");
        Assert.Equal(2, status);
        Assert.Contains(fault, errors, StringComparison.Ordinal);
    }
}
