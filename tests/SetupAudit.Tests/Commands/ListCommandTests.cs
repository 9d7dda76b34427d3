using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

public sealed class ListCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("setups", 1)]
    [InlineData("changes", 4)]
    [InlineData("findings", 3)]
    [InlineData("measurements", 2)]
    [InlineData("cycles", 3)]
    [InlineData("arrivals", 1)]
    [InlineData("programs", 0)]
    [InlineData("machines", 2)]
    [InlineData("coverage", 2)]
    public async Task Every_list_is_one_json_array(string what, int rows)
    {
        await _bench.FillAsync();

        var (status, written, _) = await _bench.RunAsync("list", what, "--json");

        Assert.Equal(0, status);
        Assert.Equal(rows, JsonElement.Parse(written).GetArrayLength());
    }

    [Fact]
    public async Task A_setup_comes_with_the_rows_that_belong_to_it()
    {
        await _bench.FillAsync();

        var setup = JsonElement.Parse((await _bench.RunAsync("list", "setups", "--json")).Out)[0];

        Assert.Equal(3, setup.GetProperty("changes").GetArrayLength());
        Assert.Equal(1, setup.GetProperty("adjustments").GetArrayLength());
        Assert.Equal(2, setup.GetProperty("measurements").GetArrayLength());
        Assert.Equal(3, setup.GetProperty("cycles").GetArrayLength());
        Assert.Equal(3, setup.GetProperty("findings").GetArrayLength());
    }

    [Theory]
    [InlineData("changes", 4 + 1)]
    [InlineData("setups", 1 + 1)]
    [InlineData("machines", 2 + 1)]
    public async Task Csv_has_a_header_and_carriage_returns(string what, int lines)
    {
        await _bench.FillAsync();

        var written = (await _bench.RunAsync("list", what, "--csv")).Out;

        Assert.EndsWith("\r\n", written, StringComparison.Ordinal);
        Assert.Equal(lines + 1, written.Split("\r\n").Length);
    }

    [Fact]
    public async Task Numbers_keep_their_digits_in_json_and_csv()
    {
        await _bench.FillAsync();

        Assert.Contains("\"before\":-410.000,", (await _bench.RunAsync("list", "changes", "--json")).Out, StringComparison.Ordinal);
        Assert.Contains(",-410.000,", (await _bench.RunAsync("list", "changes", "--csv")).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_table_for_another_program_is_aligned_and_has_no_frame()
    {
        await _bench.FillAsync();

        var written = (await _bench.RunAsync("list", "changes")).Out.Split('\n');

        Assert.StartsWith("to                   machine  what", written[0], StringComparison.Ordinal);
        Assert.StartsWith("2026-03-02 07:14:00  mill-3   G54.X", written[1], StringComparison.Ordinal);
        Assert.Equal("Times are those of Europe/London; --json has UTC.", written[^2]);
        Assert.DoesNotContain(string.Concat(written), letter => letter is '│' or '─' or '\u001b');
    }

    [Theory]
    [InlineData("--since", "2026-03-02T07:15:00Z", 2)]
    [InlineData("--until", "2026-03-02T07:14:00Z", 2)]
    [InlineData("--until", "2026-03-02", 4)]
    [InlineData("--since", "2026-03-03", 0)]
    [InlineData("--machine", "mill-4", 0)]
    [InlineData("--program", "o02041", 4)]
    [InlineData("--program", "O1", 0)]
    public async Task Rows_can_be_narrowed_down(string option, string value, int rows)
    {
        await _bench.FillAsync();

        var (status, written, errors) = await _bench.RunAsync("list", "changes", option, value, "--json");

        Assert.Equal((0, ""), (status, errors));
        Assert.Equal(rows, JsonElement.Parse(written).GetArrayLength());
    }

    [Fact]
    public async Task A_time_without_an_offset_is_on_the_shops_clock()
    {
        var summer = MadeUp.Document().Cycles[0] with { StartUtc = new DateTimeOffset(2026, 7, 6, 6, 30, 0, TimeSpan.Zero) };
        await _bench.FillAsync(CommandBench.Row(DerivedKind.Cycle, "cycle-summer", summer.StartUtc, summer));

        var at = await _bench.RunAsync("list", "cycles", "--since", "2026-07-06T07:30", "--json");
        var after = await _bench.RunAsync("list", "cycles", "--since", "2026-07-06T07:31", "--json");

        Assert.Equal(1, JsonElement.Parse(at.Out).GetArrayLength());
        Assert.Equal(0, JsonElement.Parse(after.Out).GetArrayLength());
    }

    [Fact]
    public async Task What_no_longer_holds_is_listed_only_when_asked_for_and_says_why()
    {
        await _bench.FillAsync();
        await _bench.WithdrawAsync(MadeUp.Setup + "/search-too-long/212");

        var holds = JsonElement.Parse((await _bench.RunAsync("list", "findings", "--json")).Out);
        var all = JsonElement.Parse((await _bench.RunAsync("list", "findings", "--withdrawn", "--json")).Out);

        Assert.Equal(2, holds.GetArrayLength());
        Assert.Equal(3, all.GetArrayLength());
        var reasons = all.EnumerateArray().Select(row => row.GetProperty("withdrawn").GetString()).ToList();
        Assert.Single(reasons, "a later touch agreed");
        Assert.Equal(2, reasons.Count(reason => reason is null));
    }

    [Fact]
    public async Task Machines_tell_what_is_configured_and_what_was_heard()
    {
        await _bench.FillAsync();

        var machines = JsonElement.Parse((await _bench.RunAsync("list", "machines", "--json")).Out);

        Assert.Equal("mm", machines[0].GetProperty("units").GetString());
        Assert.Equal("2026-03-02T07:14:00Z", machines[0].GetProperty("last").GetString());
        Assert.Equal("2026-03-02T08:10:00Z", machines[0].GetProperty("horizon").GetString());
        Assert.Equal(1, machines[0].GetProperty("setups").GetInt32());
        Assert.Equal(JsonValueKind.Null, machines[1].GetProperty("last").ValueKind);
    }

    [Fact]
    public async Task Machines_in_fault_say_below_the_table_what_cannot_be_read_or_kept()
    {
        await _bench.FillAsync();
        var share = new SourceStanding { Machine = "mill-4", Source = "offsets-4/*.nc", Fault = "the folder is not there" };
        StandingFile.Write(_bench["audit"], new ServiceStanding
        {
            AsOfUtc = TimeProvider.System.GetUtcNow(),
            IsWatching = true,
            Sources = [share],
        });
        Assert.Contains("\nmill-4: offsets-4/*.nc cannot be read now: the folder is not there.\n",
            (await _bench.RunAsync("list", "machines")).Out, StringComparison.Ordinal);

        StandingFile.Write(_bench["audit"], new ServiceStanding
        {
            AsOfUtc = TimeProvider.System.GetUtcNow(),
            IsWatching = true,
            Fault = "No space left on device",
        });
        var (_, table, _) = await _bench.RunAsync("list", "machines");
        Assert.Contains("mill-3: nothing is taken in now: No space left on device\n", table, StringComparison.Ordinal);
        Assert.DoesNotContain(" watched", table, StringComparison.Ordinal);
        var machines = JsonElement.Parse((await _bench.RunAsync("list", "machines", "--json")).Out);
        Assert.All(machines.EnumerateArray(), machine => Assert.Equal("No space left on device", machine.GetProperty("fault").GetString()));
    }

    [Fact]
    public async Task Machines_and_coverage_need_no_record()
    {
        var (status, written, errors) = await _bench.RunAsync("list", "coverage", "--json");

        Assert.Equal(0, status);
        Assert.Equal(2, JsonElement.Parse(written).GetArrayLength());
        Assert.Contains("no record", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Other_lists_say_that_there_is_no_record_yet()
    {
        var (status, written, errors) = await _bench.RunAsync("list", "setups", "--json");

        Assert.Equal((2, ""), (status, written));
        Assert.Contains("'once' and 'run' begin one", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_hostile_file_name_cannot_move_the_cursor()
    {
        var finding = MadeUp.Finding("unreadable", Severity.High, "offsets/\u001b[2J\u202E.nc could not be read\u0007.");
        await _bench.FillAsync(CommandBench.Row(DerivedKind.Finding, finding.Finding, finding.AtUtc, finding));

        var written = (await _bench.RunAsync("list", "findings")).Out;

        Assert.DoesNotContain(written, letter => letter is '\u001b' or '\u0007' or '\u202E');
        Assert.Contains("\u241b[2J", written, StringComparison.Ordinal);
    }

    // The columns of a list as CSV are the fields of its JSON: neither may gain or lose one alone.
    [Theory]
    [InlineData("setups")]
    [InlineData("changes")]
    [InlineData("findings")]
    [InlineData("measurements")]
    [InlineData("cycles")]
    [InlineData("arrivals")]
    [InlineData("machines")]
    [InlineData("coverage")]
    public async Task Csv_has_the_fields_of_the_json(string what)
    {
        await _bench.FillAsync();
        string[] ofReport = ["texts", "sheets", "lifts", "clocksDisagree", "basis"];

        var fields = JsonElement.Parse((await _bench.RunAsync("list", what, "--json")).Out)[0]
            .EnumerateObject().Select(field => field.Name).Where(name => what != "setups" || !ofReport.Contains(name));
        var header = (await _bench.RunAsync("list", what, "--csv")).Out.Split("\r\n")[0].Split(',');

        Assert.Equal(fields, header);
    }
}
