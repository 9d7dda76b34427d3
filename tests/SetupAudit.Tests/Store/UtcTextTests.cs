using CsCheck;

namespace SetupAudit.Store;

public sealed class UtcTextTests
{
    [Fact]
    public void A_moment_is_written_with_all_seven_digits_in_any_culture() =>
        Assert.Equal("2026-03-02T07:14:20.0000000Z", UtcText.Of(new DateTimeOffset(2026, 3, 2, 8, 14, 20, TimeSpan.FromHours(1))));

    [Fact]
    public void Texts_sort_as_moments_do_and_read_back_to_the_tick() => Gen.DateTimeOffset.Array[2].Sample(pair =>
    {
        var texts = pair.Select(moment => UtcText.Of(moment)).ToArray();
        Assert.Equal(Math.Sign(pair[0].CompareTo(pair[1])), Math.Sign(string.CompareOrdinal(texts[0], texts[1])));
        Assert.Equal(pair[0].UtcTicks, UtcText.Read(texts[0]).UtcTicks);
        Assert.True(string.CompareOrdinal(UtcText.Lowest, texts[0]) < 0 && string.CompareOrdinal(texts[0], UtcText.Highest) < 0);
    });
}
