namespace SetupAudit.Reports;

public sealed class VisibleTextTests
{
    [Theory]
    [InlineData("G10 L2 P1 X-412.250", "G10 L2 P1 X-412.250")]
    [InlineData("caf\u00e9 \u2205 25", "caf\u00e9 \u2205 25")]
    [InlineData("\u001b[2Jgone", "\u241b[2Jgone")]
    [InlineData("a\r\nb\0", "a\u240d\u240ab\u2400")]
    [InlineData("\u007f", "\u2421")]
    [InlineData("dump\u202Ecn.exe", "dump<U+202E>cn.exe")]
    [InlineData("zero\u200Bwidth", "zero<U+200B>width")]
    [InlineData("\u0085", "<U+0085>")]
    public void What_would_hide_or_turn_is_shown_as_a_sign(string text, string shown) =>
        Assert.Equal(shown, VisibleText.Of(text));

    [Fact]
    public void A_lone_surrogate_shows_as_a_replacement_mark() =>
        Assert.Equal("a\uFFFD\u2400", VisibleText.Of("a" + (char)0xD800 + "\0"));

    [Fact]
    public void A_long_text_is_cut_and_says_by_how_much() =>
        Assert.Equal("aaa ... (7 more characters)", VisibleText.Of(new string('a', 10), 3));
}
