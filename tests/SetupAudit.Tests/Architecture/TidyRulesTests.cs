namespace SetupAudit.Architecture;

public sealed class TidyRulesTests
{
    private const string Source = "src/SetupAudit.Core/Units/Length.cs";
    private const string Test = "tests/SetupAudit.Tests/Units/LengthTests.cs";

    [Theory]
    [InlineData(Source, "// TO" + "DO later", "names its issue")]
    [InlineData("docs/rules.md", "TO" + "DO later", "names its issue")]
    [InlineData("tests/run.sh", "cd /wo" + "rk/main", "path of one machine")]
    [InlineData("docs/rules.md", "the Trans" + "cript says", "not used here")]
    [InlineData(Source, "#region Conversions", "no regions")]
    [InlineData(Source, "    #endregion", "no regions")]
    [InlineData(Source, "#pragma warning disable CA1031", "reason on the same line")]
    [InlineData(Test, "    public async void Fails()", "async void")]
    [InlineData(Test, "        Thread.Sleep(100);", "no sleeps")]
    [InlineData(Test, "        await Task.Delay(100);", "no sleeps")]
    [InlineData(Source, "    public string Name { get; init; } = default!;", "no default!")]
    [InlineData(Source, "        return reading!.Value;", "null-forgiving")]
    [InlineData(Source, "        Take(reading!);", "null-forgiving")]
    [InlineData(Source, "        var first = lines[0]!;", "null-forgiving")]
    [InlineData(Source, "        var first = Find()!", "null-forgiving")]
    [InlineData(Source, "        Task.Run(() => 1);", "no Task.Run")]
    [InlineData(Source, "        ReadAsync().GetAwaiter().GetResult();", "no blocking")]
    [InlineData(Source, "        catch", "a catch names")]
    [InlineData(Source, "        catch { }", "a catch names")]
    [InlineData(Source, "        var now = DateTime.UtcNow;", "TimeProvider")]
    [InlineData(Source, "        var now = DateTimeOffset.Now;", "TimeProvider")]
    [InlineData(Source, "        await Task.Delay(poll, stop);", "TimeProvider")]
    [InlineData(Source, "        Log.Warning($\"Lost {file}\");", "template is constant")]
    [InlineData(Source, "        Log.Error(fault, $\"Lost {file}\");", "template is constant")]
    [InlineData(Source, "public sealed class Inch { }", "not named after it")]
    [InlineData(Source, "    private sealed class LengthHelper { }", "ends in Helper")]
    [InlineData(Source, "public abstract record LengthBase;", "ends in Base")]
    [InlineData(Source, "namespace SetupAudit.Core.Units;", "after its folder it would be SetupAudit.Units")]
    [InlineData("tests/SetupAudit.Tests/Lengths/LengthTests.cs", "", "mirrors the rooms")]
    [InlineData("notes.txt", "", "the top level holds only")]
    public void What_breaks_a_rule_is_told(string path, string line, string says) =>
        Assert.Contains(Look(path, line), told => told.Contains(says, StringComparison.Ordinal));

    [Theory]
    [InlineData(Source, "// TO" + "DO #12: the other axis")]
    [InlineData(Source, "#pragma warning disable CA1031 // the loop's last line of defence logs everything")]
    [InlineData(Source, "        if (!found || left != right) return;")]
    [InlineData(Source, "        var greeting = \"look out!\"; // really!")]
    [InlineData(Source, "        catch (IOException)")]
    [InlineData(Source, "        await Task.Delay(poll, clock, stop);")]
    [InlineData(Source, "        Log.Warning(\"Lost {File}\", file);")]
    [InlineData(Source, "public static partial class Length")]
    [InlineData(Source, "    private sealed class Inch { }")]
    [InlineData(Source, "internal sealed class Inch : BackgroundService { }")]
    [InlineData(Source, "namespace SetupAudit.Units;")]
    [InlineData(Test, "namespace SetupAudit.Units;")]
    [InlineData(Test, "        Assert.Equal(1, reading!.Line);")]
    [InlineData(".gitignore", "artifacts/")]
    [InlineData("docs/rules.md", "a line of prose")]
    public void What_breaks_none_is_passed_over(string path, string line) => Assert.Empty(Look(path, line));

    [Fact]
    public void A_second_public_type_in_a_file_is_told() =>
        Assert.Contains(
            "2 public types (Length, Inch)",
            Assert.Single(Look(Source, "public static class Length { }\n\npublic enum Inch { }")),
            StringComparison.Ordinal);

    [Fact]
    public void A_file_of_more_than_400_lines_is_told()
    {
        Assert.Empty(Look(Source, string.Join('\n', Enumerable.Repeat("//", TidyRules.LinesMost))));
        Assert.Single(Look(Source, string.Join('\n', Enumerable.Repeat("//", TidyRules.LinesMost + 1))));
    }

    [Fact]
    public void A_line_of_more_than_120_columns_is_told_in_src_only()
    {
        Assert.Empty(Look(Source, new string('/', TidyRules.ColumnsMost)));
        Assert.Single(Look(Source, new string('/', TidyRules.ColumnsMost + 1)));
        Assert.Empty(Look(Test, new string('/', TidyRules.ColumnsMost + 1)));
    }

    private static List<string> Look(string path, string text) => [.. TidyRules.Look(new SourceFile(path, text))];
}
