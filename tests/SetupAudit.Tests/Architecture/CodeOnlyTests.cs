namespace SetupAudit.Architecture;

public sealed class CodeOnlyTests
{
    [Theory]
    [InlineData("a // b", "a")]
    [InlineData("a /* b */ c", "a c")]
    [InlineData("x = \"y // z\"; w", "x = ; w")]
    [InlineData("x = \"a\\\"b\"; w", "x = ; w")]
    [InlineData("x = @\"a\"\"b\\\"; w", "x = ; w")]
    [InlineData("c = '\\''; w", "c = ; w")]
    [InlineData("c = '\"'; w", "c = ; w")]
    [InlineData("x = $\"a {f(\"}\")} b\"; w", "x = ; w")]
    [InlineData("x = $\"{{ {a} \"; w", "x = ; w")]
    [InlineData("x = \"\"; w", "x = ; w")]
    [InlineData("x = \"\"\"a \" b\"\"\"; w", "x = ; w")]
    public void Prose_is_blanked_and_code_is_not(string text, string code)
    {
        var left = CodeOnly.Of(text);
        Assert.Equal(text.Length, left.Length);
        Assert.Equal(code, string.Join(' ', left.Split(' ', StringSplitOptions.RemoveEmptyEntries)));
    }

    [Fact]
    public void Lines_stay_where_they_were() => Assert.Equal("a    \n   b\nc", CodeOnly.Of("a /* \n */b\nc"));

    [Fact]
    public void A_literal_that_never_ends_is_blanked_to_the_end_of_its_line() =>
        Assert.Equal("a   \nb", CodeOnly.Of("a \"c\nb"));
}
