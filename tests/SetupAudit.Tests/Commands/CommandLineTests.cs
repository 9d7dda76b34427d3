namespace SetupAudit.Commands;

public sealed class CommandLineTests : IDisposable
{
    private readonly CommandBench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("'lst' is no command", "lst")]
    [InlineData("Allowed after 'setupaudit'", "lst")]
    [InlineData("'--config' is required", "check")]
    [InlineData("'shoes' is nothing that can be listed; allowed are machines, setups", "list", "shoes", "--config", "x")]
    [InlineData("'--machin'", "list", "setups", "--machin", "m", "--config", "x")]
    [InlineData("--config FILE, --machine M", "list", "setups", "--machin", "m", "--config", "x")]
    [InlineData("--json and --csv cannot both be given", "list", "setups", "--json", "--csv", "--config", "x")]
    [InlineData("'--at' is required", "state", "--machine", "m", "--config", "x")]
    [InlineData("'--out' is required", "report", "mill-3", "--config", "x")]
    [InlineData("nowhere.json is not there", "check", "--config", "nowhere.json")]
    public async Task A_fault_of_the_command_line_ends_with_2_and_says_what_is_allowed(string says, params string[] arguments)
    {
        var (status, written, errors) = await CommandBench.RunAloneAsync(arguments);

        Assert.Equal((2, ""), (status, written));
        Assert.Contains(says, errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("the configuration has no machine mill-9; it has mill-3, mill-4", "list", "setups", "--machine", "mill-9")]
    [InlineData("--since: 'yesterday' is no moment; allowed is ISO 8601", "list", "setups", "--since", "yesterday")]
    [InlineData("--program says nothing about arrivals", "list", "arrivals", "--program", "O1")]
    [InlineData("--since and --until say nothing about coverage", "list", "coverage", "--since", "2026-03-02")]
    [InlineData("--withdrawn says nothing about machines", "list", "machines", "--withdrawn")]
    [InlineData("--at: 'noon' is no moment", "state", "--machine", "mill-3", "--at", "noon")]
    [InlineData("no report can be written as .docx; allowed are .html, .pdf, .json and .csv", "report", "m", "--out", "r.docx")]
    [InlineData("no ending to say in what form", "report", "m", "--out", "report")]
    public async Task A_fault_of_an_option_ends_with_2_and_names_the_option(string says, params string[] arguments)
    {
        var (status, written, errors) = await _bench.RunAsync(arguments);

        Assert.Equal((2, ""), (status, written));
        Assert.Contains(says, errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Help_goes_to_standard_output_and_names_every_command()
    {
        var (status, written, errors) = await CommandBench.RunAloneAsync("--help");

        Assert.Equal((0, ""), (status, errors));
        foreach (var command in new[] { "demo", "check", "once", "run", "try", "list", "state", "report", "ready", "trace",
            "review", "export", "verify", "rebuild" })
            Assert.Matches($@"(?m)^\s+{command}\b", written);
    }

    [Fact]
    public async Task An_argument_that_begins_with_an_at_sign_is_a_name_and_no_file()
    {
        _bench.Write("more", "--json");

        var (status, _, errors) = await _bench.RunAsync("list", "@" + _bench["more"]);

        Assert.Equal(2, status);
        Assert.Contains("is nothing that can be listed", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_fault_of_the_configuration_is_told_with_its_place()
    {
        _bench.Write("shop.json", """{ "Shop": { "Name": 3 }, "Mashines": {} }""");

        var (status, _, errors) = await _bench.RunAsync("list", "machines");

        Assert.Equal(2, status);
        Assert.Contains("shop.json:1:21 Shop.Name: 3 is not allowed", errors, StringComparison.Ordinal);
        Assert.Contains("Mashines", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_says_that_it_found_nothing_and_what_the_configuration_has()
    {
        foreach (var folder in new[] { "offsets", "offsets-4" }) Directory.CreateDirectory(_bench[folder]);

        var (status, written, errors) = await _bench.RunAsync("check");

        Assert.Equal(0, status);
        Assert.Empty(errors);
        Assert.Contains("No fault", written, StringComparison.Ordinal);
        Assert.Contains("2 machines, 2 watched folders", written, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_names_what_is_not_there_now_and_finds_no_fault_in_it()
    {
        Directory.CreateDirectory(_bench["offsets"]);
        _bench.Write("shop.json", (await File.ReadAllTextAsync(_bench.Config, CommandBench.Token)).Replace(
            "\"mill-4\":", """
            "mill-5": { "Kind": "mill", "Units": "mm", "Watch": [
              { "Folder": "sftp://audit@ctl-5:22/offsets", "Read": "data-setting", "KeyFile": "no.key",
                "HostKey": "SHA256:uNiVztksCsDhcc0u9e8BrYnl3oEYj8HLsXjYtZBPtdc" } ] },
            "mill-4":
            """, StringComparison.Ordinal));

        var (status, _, errors) = await _bench.RunAsync("check");

        Assert.Equal(0, status);
        var lines = errors.TrimEnd().Split('\n');
        Assert.Equal(2, lines.Length);
        Assert.StartsWith($"mill-4:offsets-4: {_bench["offsets-4"]} is not there, or not for ", lines[0], StringComparison.Ordinal);
        Assert.StartsWith($"mill-5:sftp://audit@ctl-5:22/offsets: KeyFile {_bench["no.key"]} is not there", lines[1], StringComparison.Ordinal);
    }
}
