namespace SetupAudit.Support;

public sealed class SomeTests
{
    [Fact]
    public void Every_value_differs_from_the_last()
    {
        Assert.NotEqual(Some.Text(), Some.Text());
        Assert.NotEqual(Some.Coordinate(), Some.Coordinate());
        Assert.NotEqual(Some.Sha256(), Some.Sha256());
        Assert.NotEqual(Some.ToolLength(), Some.ToolLength());
        Assert.True(Some.MomentUtc() < Some.MomentUtc());
    }

    [Fact]
    public void A_hash_has_the_length_of_a_hash() => Assert.Equal(64, Some.Sha256().Length);
}
