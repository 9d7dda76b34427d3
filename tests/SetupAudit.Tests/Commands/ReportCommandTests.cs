using System.Text.Json;
using SetupAudit.Reports;
using SetupAudit.Store;

namespace SetupAudit.Commands;

public sealed class ReportCommandTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Fact]
    public async Task A_report_quotes_the_lines_that_its_findings_rest_on()
    {
        await _bench.FillAsync();

        var (status, written, errors) = await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench["r.html"]);

        Assert.Equal((0, ""), (status, written));
        Assert.Contains("Wrote", errors, StringComparison.Ordinal);
        var page = await File.ReadAllTextAsync(_bench["r.html"], CommandBench.Token);
        Assert.Contains("G10 L2 P1 X-412.250 Y-203.118 Z-310.450", page, StringComparison.Ordinal);
        Assert.Contains("Harrow Lane Works (made up)", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_report_as_json_is_what_the_list_of_setups_gives()
    {
        await _bench.FillAsync();

        await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench["r.json"]);

        var listed = JsonElement.Parse((await _bench.RunAsync("list", "setups", "--json")).Out)[0];
        var reported = JsonElement.Parse(await File.ReadAllTextAsync(_bench["r.json"], CommandBench.Token));
        Assert.True(JsonElement.DeepEquals(listed, reported));
    }

    [Theory]
    [InlineData("mill-3@20260302-071000")]
    [InlineData("mill-3@")]
    [InlineData("m")]
    public async Task Any_unique_beginning_of_an_id_is_accepted(string beginning)
    {
        await _bench.FillAsync();

        var (status, _, errors) = await _bench.RunAsync("report", beginning, "--out", _bench["r.csv"]);

        Assert.True(status == 0, errors);
    }

    [Fact]
    public async Task A_beginning_of_several_ids_ends_with_2_and_shows_them()
    {
        var other = MadeUp.Head() with { Setup = "mill-3@20260303-080000" };
        await _bench.FillAsync(CommandBench.Row(DerivedKind.Setup, other.Setup, other.OpenedUtc, other));

        var (status, _, errors) = await _bench.RunAsync("report", "mill-3@2026030", "--out", _bench["r.html"]);

        Assert.Equal(2, status);
        Assert.Contains("  mill-3@20260302-071000", errors, StringComparison.Ordinal);
        Assert.Contains("  mill-3@20260303-080000", errors, StringComparison.Ordinal);
        Assert.False(File.Exists(_bench["r.html"]));
    }

    [Fact]
    public async Task An_id_that_is_whole_is_taken_although_a_longer_one_begins_with_it()
    {
        var other = MadeUp.Head() with { Setup = MadeUp.Setup + "-2" };
        await _bench.FillAsync(CommandBench.Row(DerivedKind.Setup, other.Setup, other.OpenedUtc, other));

        var (status, _, _) = await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench["r.json"]);

        Assert.Equal(0, status);
        Assert.Equal(MadeUp.Setup, JsonElement.Parse(File.ReadAllText(_bench["r.json"])).GetProperty("setup").GetString());
    }

    [Fact]
    public async Task An_unknown_setup_ends_with_2()
    {
        await _bench.FillAsync();

        var (status, _, errors) = await _bench.RunAsync("report", "lathe", "--out", _bench["r.html"]);

        Assert.Equal(2, status);
        Assert.Contains("No setup has an id that begins with 'lathe'", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("offsets/r.html")]
    [InlineData("offsets/deeper/r.html")]
    [InlineData("link/r.html")]
    public async Task Nothing_is_ever_written_into_a_watched_folder(string name)
    {
        await _bench.FillAsync();
        Directory.CreateDirectory(_bench["offsets/deeper"]);
        Directory.CreateSymbolicLink(_bench["link"], _bench["offsets"]);

        var (status, _, errors) = await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench[name]);

        Assert.Equal(2, status);
        Assert.Contains("watched folder", errors, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(_bench["offsets"], "*", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task A_folder_that_is_not_there_is_a_fault_of_the_option()
    {
        await _bench.FillAsync();

        var (status, _, errors) = await _bench.RunAsync("report", MadeUp.Setup, "--out", _bench["nowhere/r.html"]);

        Assert.Equal(2, status);
        Assert.Contains("--out: the folder", errors, StringComparison.Ordinal);
    }
}
