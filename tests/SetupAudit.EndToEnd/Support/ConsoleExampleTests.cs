namespace SetupAudit.Support;

public sealed class ConsoleExampleTests
{
    private const string Document = """
        # Words

        ```sh
        $ setupaudit never
        ```

        ```console
        $ git clone somewhere
        Cloning ...
        $ setupaudit list findings --machine "mill 3" \
            --config 'my shop.json'
        mill-3  stop  Z of G54 was not set

        ...
        3 findings in ... s
        $ dotnet run --project src/SetupAudit -- verify --config shop.json   # exit status 1
        ```

        ```console
        $ setupaudit
        ```
        """;

    private static readonly IReadOnlyList<ConsoleExample> Found = ConsoleExample.In(Document);

    [Fact]
    public void Only_our_program_in_console_blocks_is_taken() =>
        Assert.Equal(["list", "verify", null], Found.Select(example => example.Arguments.Count > 0 ? example.Arguments[0] : null));

    [Fact]
    public void Words_in_quotes_stay_together() =>
        Assert.Equal(["list", "findings", "--machine", "mill 3", "--config", "my shop.json"], Found[0].Arguments);

    [Fact]
    public void An_exit_status_other_than_0_is_said_in_a_comment()
    {
        Assert.Equal(0, Found[0].ExitCode);
        Assert.Equal(1, Found[1].ExitCode);
        Assert.Equal(["verify", "--config", "shop.json"], Found[1].Arguments);
    }

    [Fact]
    public void Each_knows_its_line() => Assert.Equal([10, 16, 20], Found.Select(example => example.Line));

    [Theory]
    [InlineData("mill-3  stop  Z of G54 was not set\n3 findings in 0.2 s\n", null)]
    [InlineData("first\nmill-3  stop  Z of G54 was not set  \r\nmore\n3 findings in 12 s", null)]
    [InlineData("mill-3  stop  Z of G55 was not set\n3 findings in 0.2 s", "mill-3  stop  Z of G54 was not set")]
    [InlineData("mill-3  stop  Z of G54 was not set\n4 findings in 0.2 s", "3 findings in ... s")]
    [InlineData("3 findings in 0.2 s\nmill-3  stop  Z of G54 was not set", "3 findings in ... s")]
    [InlineData("", "mill-3  stop  Z of G54 was not set")]
    public void Every_line_shown_must_be_written_in_that_order(string output, string? missing) =>
        Assert.Equal(missing, Found[0].FirstMissing(output));

    [Fact]
    public void A_block_that_is_never_closed_is_a_fault() =>
        Assert.Throws<FormatException>(() => ConsoleExample.In("```console\n$ setupaudit demo"));
}
