using System.Text;
using System.Text.RegularExpressions;
using CsCheck;

namespace SetupAudit.Shop;

public sealed class GlobTests
{
    [Theory]
    [InlineData("*.nc", "O2041.nc", true)]
    [InlineData("*.nc", ".nc", true)]
    [InlineData("*.nc", "O2041.nc.tmp", false)]
    [InlineData("O????.nc", "O2041.nc", true)]
    [InlineData("O????.nc", "O204.nc", false)]
    [InlineData("G5*", "G54", true)]
    [InlineData("G5*", "G54.1 P7", true)]
    [InlineData("G54.1 P?", "G54.1 P12", false)]
    [InlineData("", "", true)]
    [InlineData("", "a", false)]
    [InlineData("*", "", true)]
    [InlineData("a*b*c", "aXbYbZc", true)]
    [InlineData("a*b*c", "aXbYbZ", false)]
    [InlineData("[ab].nc", "a.nc", false)]
    [InlineData("[ab].nc", "[ab].nc", true)]
    public void Star_is_any_run_and_question_mark_any_one(string pattern, string text, bool matches) =>
        Assert.Equal(matches, Glob.Matches(pattern, text));

    [Theory]
    [InlineData("*.nc", "sub/O1.nc", false)]
    [InlineData("sub/*.nc", "sub/O1.nc", true)]
    [InlineData("s?b/*.nc", "s/b/O1.nc", false)]
    [InlineData("**/*.nc", "O1.nc", true)]
    [InlineData("**/*.nc", "a/b/O1.nc", true)]
    [InlineData("a/**", "a/b/O1.nc", true)]
    [InlineData("a/**/b", "a/b", true)]
    [InlineData("a/**/b", "a/x/y", false)]
    [InlineData("**", "a/b", true)]
    [InlineData("a**b", "aXb", true)]
    [InlineData("a**b", "a/b", false)]
    public void Only_two_stars_between_slashes_cross_folders(string pattern, string text, bool matches) =>
        Assert.Equal(matches, Glob.Matches(pattern, text));

    [Fact]
    public void Case_counts_unless_it_is_a_file_name()
    {
        Assert.False(Glob.Matches("*.nc", "O2041.NC"));
        Assert.True(Glob.Matches("*.nc", "O2041.NC", ignoreCase: true));
    }

    [Fact]
    public void A_pattern_of_many_stars_does_not_run_away()
    {
        var pattern = string.Concat(Enumerable.Repeat("a*", 200)) + "b";
        Assert.False(Glob.Matches(pattern, new string('a', 20_000)));
    }

    [Fact]
    public void It_agrees_with_the_regular_expression_of_the_same_meaning() =>
        Gen.Select(Gen.String[Gen.Char["ab*?"], 0, 8], Gen.String[Gen.Char["ab"], 0, 10]).Sample((pattern, text) =>
            Glob.Matches(pattern, text) == Regex.IsMatch(text, AsRegex(pattern), RegexOptions.NonBacktracking));

    [Fact]
    public void Folders_agree_with_the_regular_expression_of_the_same_meaning() =>
        Gen.Select(Gen.Char["a*"].Array[0, 4], Gen.Char["ab"].Array[1, 5]).Sample((parts, names) =>
        {
            // One letter a part keeps the regular expression plain: "a" is itself, "*" stands for a part of two stars.
            var pattern = string.Join('/', parts.Select(part => part == '*' ? "**" : "a").Append("?"));
            var text = string.Join('/', names);
            var regex = "^" + string.Concat(parts.Select(part => part == '*' ? "([ab]/)*" : "a/")) + "[ab]$";
            return Glob.Matches(pattern, text) == Regex.IsMatch(text, regex, RegexOptions.NonBacktracking);
        });

    private static string AsRegex(string pattern)
    {
        var regex = new StringBuilder("^");
        foreach (var letter in pattern)
            regex.Append(letter switch { '*' => ".*", '?' => ".", _ => Regex.Escape(letter.ToString()) });
        return regex.Append('$').ToString();
    }
}
