using System.Text.RegularExpressions;
using CsCheck;

namespace SetupAudit.Readings;

public sealed class RequiredLiteralTests
{
    [Theory]
    [InlineData("^(?<time>[-0-9]+ [:0-9]+) CYCLE START (?<program>O\\d+)", " CYCLE START ")]
    [InlineData("TOUCH (?<feature>\\S+) (?<register>G5\\d) SIZE (?<size>\\S+)", "TOUCH ")]
    [InlineData("colou?r", "colo")]
    [InlineData("ab{0,1}cd", "cd")]
    [InlineData("ab+c", "ab")]
    [InlineData("G54\\.1", "G54.1")]
    [InlineData("[]x]yz", "yz")]
    [InlineData("[a-z-[m(]]AB", "AB")]
    [InlineData("\\p{Lu}abc", "abc")]
    [InlineData("(a|b)cd", "cd")]
    [InlineData("größer", "gr")]
    public void The_longest_certain_run_is_found(string pattern, string literal) =>
        Assert.Equal(literal, RequiredLiteral.Of(pattern));

    [Theory]
    [InlineData("a|b")]
    [InlineData("(?i)cycle")]
    [InlineData("(?x) c y c l e")]
    [InlineData("cyc(?i:le)")]
    [InlineData("\\x41bc")]
    [InlineData(".*")]
    [InlineData("")]
    public void Where_nothing_is_certain_there_is_none(string pattern) =>
        Assert.Equal("", RequiredLiteral.Of(pattern));

    [Fact]
    public void What_matches_holds_the_literal()
    {
        var parts = Gen.OneOf(
            Gen.Char["abc"].Select(letter => letter.ToString()),
            Gen.Int[0, Pieces.Length - 1].Select(index => Pieces[index]));
        Gen.Select(parts.Array[1, 7], Gen.String[Gen.Char["abc. |"], 0, 12]).Sample((pieces, text) =>
        {
            var pattern = string.Concat(pieces);
            if (Compile(pattern) is not { } regex || !regex.IsMatch(text)) return;
            Assert.Contains(RequiredLiteral.Of(pattern), text, StringComparison.Ordinal);
        }, iter: 1000);
    }

    private static readonly string[] Pieces =
    [
        "*", "+", "?", "{2}", "{0,1}", "{", "(a)", "(?:ab)", "(?<x>b)", "(a", ")", "|", ".", "\\.", "\\s", "\\|", "[ab]",
        "[^a]", "[]a]", "[", "]", "(?i)", "(?#c)", "^", "$", "\\", "*?", "+?",
    ];

    private static Regex? Compile(string pattern)
    {
        try
        {
            return new Regex(pattern, RegexOptions.NonBacktracking | RegexOptions.CultureInvariant);
        }
        catch (Exception fault) when (fault is ArgumentException or NotSupportedException)
        {
            return null;
        }
    }
}
