namespace SetupAudit.Shares;

/// <summary>A listing that broke off, a share that is gone, and an empty folder are no deletions.</summary>
public sealed class ShareFaultTests
{
    private readonly ShareBench _bench = new();

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void A_folder_that_cannot_be_reached_is_a_fault_with_its_reason()
    {
        Share.Before = (call, _) =>
        {
            if (call == "list") throw new DirectoryNotFoundException();
        };

        var report = _bench.Scan();

        Assert.False(report.Clean);
        Assert.Null(report.HorizonUtc);
        Assert.Equal("the folder is not there", report.Fault);
    }

    [Fact]
    public void A_listing_that_breaks_off_deletes_nothing_and_gives_what_it_showed()
    {
        foreach (var name in new[] { "a.nc", "b.nc", "c.nc" }) Share.Write(name, name);
        _bench.ScanFor(10);
        Share.Write("a.nc", "new");
        Share.Before = (call, name) =>
        {
            if (call == "entry" && name == "b.nc") throw MemoryShare.Fault(MemoryShare.Eio);
        };
        var report = _bench.ScanFor(10);
        Share.Before = (_, _) => { };
        _bench.ScanFor(10);

        Assert.False(report.Clean);
        Assert.Equal(["a.nc", "b.nc", "c.nc", "new"], _bench.Texts);
    }

    [Fact]
    public void A_share_that_is_gone_for_days_and_comes_back_gives_nothing_twice()
    {
        Share.Write("a.nc", "1");
        _bench.ScanFor(10);
        Share.Before = (_, _) => throw MemoryShare.Fault(MemoryShare.Estale);
        for (var day = 0; day < 5; day++) Assert.False(_bench.ScanAfter(86_400).Clean);
        Share.Before = (_, _) => { };
        _bench.ScanFor(10);

        Assert.Single(_bench.Taken);
    }

    [Fact]
    public void An_unmounted_share_leaves_an_empty_folder_which_is_not_believed()
    {
        Share.MountedOn = MemoryShare.Nas;
        Share.Write("a.nc", "1");
        _bench.ScanFor(10);
        Share.IsUnmounted = true;
        for (var day = 0; day < 5; day++)
        {
            _bench.Restart();
            var report = _bench.ScanAfter(86_400);
            Assert.False(report.Clean);
            Assert.Equal(
                "the folder is empty, and what was mounted there is gone (/share cifs //nas/share)", report.Fault);
        }

        Share.IsUnmounted = false;
        _bench.ScanFor(10);
        Assert.Single(_bench.Taken);
    }

    [Fact]
    public void A_folder_that_was_emptied_is_believed_where_the_mount_stands()
    {
        Share.Write("a.nc", "1");
        _bench.ScanFor(10);
        Share.Delete("a.nc");

        Assert.True(_bench.ScanAfter(2).Clean);
        _bench.ScanAfter(90_000);
        Assert.Contains("a.nc", _bench.Kept.Keys);
        _bench.ScanAfter(61);
        _bench.ScanAfter(61);

        Assert.DoesNotContain("a.nc", _bench.Kept.Keys);
    }

    [Fact]
    public void A_file_is_forgotten_only_after_several_whole_listings_on_the_same_mount()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        _bench.ScanFor(10);
        var stamp = Share.Stamp("a.nc");
        Share.Delete("a.nc");
        _bench.ScanAfter(2);
        Share.MountedOn = "/share cifs //other/share";
        _bench.Restart();
        for (var hour = 0; hour < 23; hour++) _bench.ScanAfter(3600);

        Assert.Contains("a.nc", _bench.Kept.Keys);
        Share.Write("a.nc", "1", stamp.ModifiedUtc);
        _bench.ScanFor(10);
        Assert.Equal(2, _bench.Taken.Count);
        Share.Delete("a.nc");
        for (var hour = 0; hour < 27; hour++) _bench.ScanAfter(3600);
        Assert.DoesNotContain("a.nc", _bench.Kept.Keys);
    }

    [Fact]
    public void A_file_that_is_gone_for_an_hour_and_comes_back_unchanged_is_not_taken_again()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        _bench.ScanFor(10);
        var stamp = Share.Stamp("a.nc");
        Share.Delete("a.nc");
        _bench.ScanFor(120);
        _bench.Restart();
        _bench.ScanAfter(3600);
        Share.Write("a.nc", "1", stamp.ModifiedUtc);
        _bench.ScanFor(10);

        Assert.Equal(2, _bench.Taken.Count);
    }

    [Fact]
    public void A_share_that_dies_while_files_are_read_stops_the_scan_and_refuses_none()
    {
        for (var i = 0; i < 5; i++) Share.Write($"{i}.nc", "1");
        _bench.Clock.Advance(60);
        var tries = 0;
        Share.Before = (call, name) =>
        {
            if (call != "read" || name == "0.nc") return;
            tries++;
            throw MemoryShare.Fault(MemoryShare.Estale);
        };
        var report = _bench.Scan();
        Assert.Equal(1, tries);
        Share.Before = (_, _) => { };
        _bench.ScanFor(10);

        Assert.False(report.Clean);
        Assert.StartsWith("the share is gone: ", report.Fault, StringComparison.Ordinal);
        Assert.Equal(5, _bench.Taken.Count);
        Assert.All(_bench.Taken, found => Assert.Null(found.Refused));
    }

    [Fact]
    public void A_folder_below_without_permission_leaves_the_others_unharmed()
    {
        var bench = new ShareBench(files: "**/*.nc");
        bench.Share.Make("old", EntryKind.Folder);
        bench.Share.Make("new", EntryKind.Folder);
        bench.Share.Write("new/a.nc", "1");
        bench.Share.Write("old/b.nc", "2");
        bench.Share.Before = (call, name) =>
        {
            if (call == "list" && name == "old/") throw new UnauthorizedAccessException();
        };

        var report = bench.ScanFor(10);

        Assert.False(report.Clean);
        Assert.Equal("the folder old in it may not be listed: no permission", report.Fault);
        Assert.Equal(["1"], bench.Texts);
    }

    [Theory]
    [InlineData(5, nameof(FileTrouble.Unreadable))]
    [InlineData(116, nameof(FileTrouble.ShareGone))]
    [InlineData(107, nameof(FileTrouble.ShareGone))]
    [InlineData(24, nameof(FileTrouble.ShareGone))]
    [InlineData(unchecked((int)0x80070040), nameof(FileTrouble.ShareGone))]
    [InlineData(unchecked((int)0x80070020), nameof(FileTrouble.Unreadable))]
    public void Faults_of_the_share_are_told_from_those_of_a_file(int number, string trouble) =>
        Assert.Equal(trouble, ShareErrors.Of(MemoryShare.Fault(number)).ToString());
}
