namespace SetupAudit.People;

public sealed class PersonNameTests
{
    [Theory]
    [InlineData("Ann Reed", "ann  REED ")]
    [InlineData("José", "JOSE\u0301")]
    [InlineData("Straße", "STRASSE")]
    [InlineData("ﬁnn", "FINN")]
    [InlineData("Ａnn", "ann")]
    [InlineData("ΣΙΣΥΦΟΣ", "σισυφος")]
    public void Ways_of_writing_one_name_are_one_name(string one, string other) =>
        Assert.Equal(PersonName.Folded(one), PersonName.Folded(other));

    [Fact]
    public void Two_names_stay_two() => Assert.NotEqual(PersonName.Folded("Ann Reed"), PersonName.Folded("Anna Reed"));

    [Fact]
    public void A_name_is_kept_as_it_is_printed() => Assert.Equal("Ann Reed", PersonName.Normal("  Ann\t Reed "));

    [Theory]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("Ann\u202eReed")]
    [InlineData("Ann\u0007")]
    [InlineData("Ann\u200bReed")]
    public void A_name_that_shows_as_another_is_refused(string name) => Assert.NotNull(PersonName.Fault(name));

    [Fact]
    public void A_name_may_have_a_hundred_letters_and_no_more()
    {
        Assert.Null(PersonName.Fault(new string('a', 100)));
        Assert.Equal("The name is longer than 100 letters.", PersonName.Fault(new string('a', 101)));
    }

    [Fact]
    public void Half_a_character_is_refused() => Assert.NotNull(PersonName.Fault("Ann\ud800"));
}
