namespace SetupAudit.Support;

public sealed class WorkshopTests
{
    [Fact]
    public void The_watched_folders_are_there_before_anything_is_written()
    {
        using var shop = Workshop.With(Workshop.OneMill);
        Assert.True(Directory.Exists(shop["shares/mill-3/prints"]));
        Assert.True(File.Exists(shop.ConfigPath));
    }

    [Fact]
    public void A_file_has_its_time_and_its_text()
    {
        using var shop = Workshop.With(Workshop.OneMill)
            .Write("shares/mill-3/offsets/dump.nc", "2026-03-02T07:00:00Z", "G10 L2 P1 X-310.2")
            .Append("shares/mill-3/prints/today.log", "2026-03-02T08:00:00Z", "CYCLE START O2041\n");
        Assert.Equal("G10 L2 P1 X-310.2", File.ReadAllText(shop["shares/mill-3/offsets/dump.nc"]));
        Assert.Equal(
            new DateTime(2026, 3, 2, 8, 0, 0, DateTimeKind.Utc), File.GetLastWriteTimeUtc(shop["shares/mill-3/prints/today.log"]));
    }
}
