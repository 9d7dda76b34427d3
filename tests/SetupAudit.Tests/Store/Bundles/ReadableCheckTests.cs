using System.Text;
using SetupAudit.Commands;
using SetupAudit.Store.Verifying;

namespace SetupAudit.Store.Bundles;

public sealed class ReadableCheckTests
{
    [Fact]
    public async Task What_a_person_reads_is_what_the_rows_say()
    {
        using var bench = await BundleBench.MadeAsync();
        var (left, faults) = Run(bench.Files(), _ => { });
        Assert.Equal(0, left);
        Assert.Empty(faults.Ordered);
    }

    // What the program itself would have to get wrong: the list and the record would name such a file.
    [Theory]
    [InlineData("findings", "\"severity\": \"stop\"", "\"severity\": \"note\"", "finding")]
    [InlineData("changes", "-412.250", "-412.25", "change")]
    [InlineData("head", "\"status\": \"queried\"", "\"status\": \"accepted\"", "setup")]
    public async Task A_value_that_no_row_has_is_found(string where, string from, string to, string kind)
    {
        using var bench = await BundleBench.MadeAsync();
        var (_, faults) = Run(bench.Files(), files =>
        {
            var text = Encoding.UTF8.GetString(files["setup.json"]);
            Assert.Contains(from, text, StringComparison.Ordinal);
            var at = text.IndexOf(from, where == "head" ? 0 : text.IndexOf($"\"{where}\":", StringComparison.Ordinal), StringComparison.Ordinal);
            Assert.True(at >= 0, text);
            files["setup.json"] = Encoding.UTF8.GetBytes(text[..at] + to + text[(at + from.Length)..]);
        });
        Assert.Contains(faults.Ordered, fault => fault.Code == FaultCode.BundleDiffers
            && fault.Text.EndsWith($"says what no sealed row of the kind {kind} says", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_row_that_holds_and_is_not_shown_is_counted()
    {
        using var bench = await BundleBench.MadeAsync();
        var files = bench.Files();
        var setup = System.Text.Json.Nodes.JsonNode.Parse(files["setup.json"])!.AsObject();
        setup["findings"]!.AsArray().RemoveAt(0);
        var (left, faults) = Run(files, altered => altered["setup.json"] = Encoding.UTF8.GetBytes(setup.ToJsonString()));
        Assert.Equal(1, left);
        Assert.Empty(faults.Ordered);
    }

    [Theory]
    [InlineData("1:a,~\n", 1), InlineData("", 0), InlineData("1:a,\n0:,\n", 2)]
    [InlineData("1:a,", -1), InlineData("2:a,\n", -1), InlineData(":a,\n", -1), InlineData("-1:,\n", -1), InlineData("9999999999:a,\n", -1)]
    public void Rows_are_read_as_they_were_sealed_and_nothing_else_is(string bytes, int rows) =>
        Assert.Equal(rows, RowText.Read(Encoding.UTF8.GetBytes(bytes))?.Count ?? -1);

    private static (long? Left, FaultList Faults) Run(SortedDictionary<string, byte[]> files, Action<SortedDictionary<string, byte[]>> alter)
    {
        alter(files);
        var faults = new FaultList();
        var rows = files.Where(file => file.Key.StartsWith("rows/", StringComparison.Ordinal))
            .OrderBy(file => long.Parse(Path.GetFileNameWithoutExtension(file.Key))).Select(file => file.Value);
        return (new ReadableCheck(faults).Run(rows, files["setup.json"]), faults);
    }
}
