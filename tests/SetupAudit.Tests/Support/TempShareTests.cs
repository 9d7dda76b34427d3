namespace SetupAudit.Support;

public sealed class TempShareTests
{
    [Fact]
    public void The_folder_is_named_for_its_test_and_gone_after_it()
    {
        string folder;
        using (var share = new TempShare())
        {
            folder = share.Folder;
            share.Write("deep/below/dump.nc", "G10 L2 P1 X1.");
            Assert.Contains(nameof(The_folder_is_named_for_its_test_and_gone_after_it), folder, StringComparison.Ordinal);
            Assert.True(File.Exists(Path.Combine(folder, "deep", "below", "dump.nc")));
        }
        Assert.False(Directory.Exists(folder));
    }

    [Fact]
    public void A_file_has_the_time_it_was_given()
    {
        using var share = new TempShare();
        var path = share.Write("dump.nc", "%", "2026-03-02T07:00:00+01:00");
        Assert.Equal(new DateTime(2026, 3, 2, 6, 0, 0, DateTimeKind.Utc), File.GetLastWriteTimeUtc(path));
    }

    [Fact]
    public void A_link_out_of_the_folder_goes_and_what_it_points_to_stays()
    {
        using var outside = new TempShare();
        var kept = outside.Write("kept.nc", "%");
        using (var share = new TempShare())
            Directory.CreateSymbolicLink(share["way-out"], outside.Folder);
        Assert.True(File.Exists(kept));
    }
}
