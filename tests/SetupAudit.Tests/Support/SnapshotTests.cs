using Xunit.Sdk;

namespace SetupAudit.Support;

public sealed class SnapshotTests
{
    [Fact]
    public void Another_text_than_the_accepted_one_fails()
    {
        using var share = new TempShare();
        var path = share.Write("expected.txt", "G54 X -310.2\n");
        Snapshot.FileHolds(path, "G54 X -310.2");
        Assert.ThrowsAny<XunitException>(() => Snapshot.FileHolds(path, "G54 X -310.3"));
    }

    [Fact]
    public void A_text_that_nobody_accepted_fails()
    {
        using var share = new TempShare();
        Assert.ThrowsAny<XunitException>(() => Snapshot.FileHolds(share["missing.txt"], "G54"));
    }

    [Theory]
    [InlineData("1", null, true)]
    [InlineData("1", "", true)]
    [InlineData("1", "false", true)]
    [InlineData("1", "true", false)]
    [InlineData("1", "1", false)]
    [InlineData(null, null, false)]
    [InlineData("0", "", false)]
    public void Only_a_person_accepts_never_ci(string? accept, string? ci, bool accepts) =>
        Assert.Equal(accepts, Snapshot.IsAccepting(accept, ci));
}
