namespace SetupAudit.People;

/// <summary>OWASP ASVS 5.0, 6.2: length and a list of common ones, no rules about kinds of characters.</summary>
public sealed class PasswordRulesTests
{
    [Theory]
    [InlineData("four plain words do")]
    [InlineData("ALL CAPITALS ARE FINE")]
    [InlineData("naïve-señor-straße")]
    [InlineData("🔧🔩🪛🧰 on the bench ok")]
    [InlineData("tgqpxzkvmwbh")]
    public void Any_characters_will_do(string password) => Assert.Null(PasswordRules.Fault(password, "Ann Reed"));

    [Fact]
    public void Eleven_characters_are_too_few() => Assert.Equal(
        "The password has 11 characters; it needs 12 at least, and 15 or more are advised. "
            + "Any characters will do, blanks too: four words do well.",
        PasswordRules.Fault("tgqpxzkvmwb", "Ann Reed"));

    [Fact]
    public void Characters_are_counted_not_their_parts() =>
        Assert.NotNull(PasswordRules.Fault(string.Concat(Enumerable.Repeat("🔧", 11)), "Ann Reed"));

    [Fact]
    public void Long_ones_are_taken_whole_up_to_a_limit_that_is_told()
    {
        var words = string.Join(' ', Enumerable.Range(1, 200))[..256];
        Assert.Null(PasswordRules.Fault(words, "Ann Reed"));
        Assert.Equal("The password has 257 characters; 256 are the most.", PasswordRules.Fault(words + "x", "Ann Reed"));
    }

    [Theory]
    [InlineData("password12345")]
    [InlineData("PASSWORD12345")]
    [InlineData("correct horse battery staple")]
    [InlineData("correcthorsebatterystaple")]
    [InlineData("qwertyuiop123")]
    [InlineData("abcdefghijklmnop")]
    [InlineData("09876543210987")]
    [InlineData("aaaaaaaaaaaaaaaa")]
    [InlineData("ababababababab")]
    [InlineData("Ann Reed 2026!!")]
    [InlineData("annreed-annreed")]
    public void What_is_tried_first_is_refused(string password) => Assert.Equal(
        "The password is one of those that are tried first: a common one, the name, or a simple run of keys.",
        PasswordRules.Fault(password, "Ann Reed"));

    [Fact]
    public void A_password_with_half_a_character_is_refused() =>
        Assert.NotNull(PasswordRules.Fault("tgqpxzkvmwbh\ud83d", "Ann Reed"));
}
