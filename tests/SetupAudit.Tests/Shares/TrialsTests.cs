namespace SetupAudit.Shares;

/// <summary>What cannot be read is refused with a reason, once, and harms no other.</summary>
public sealed class TrialsTests
{
    private readonly ShareBench _bench = new();

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void A_file_that_vanishes_after_the_listing_is_no_fault()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        _bench.Clock.Advance(10);
        Share.Before = (call, name) =>
        {
            if (call == "open" && name == "a.nc") Share.Delete("a.nc");
        };

        var report = _bench.Scan();

        Assert.True(report.Clean);
        Assert.Equal(["2"], _bench.Texts);
        Assert.Equal(0, _bench.ScanAfter(2).Waiting);
    }

    [Fact]
    public void A_file_without_permission_is_refused_once_and_the_others_are_taken()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        Share.Before = (call, name) =>
        {
            if (call == "open" && name == "a.nc") throw new UnauthorizedAccessException();
        };

        _bench.ScanFor(30);

        Assert.Equal(["b.nc", "a.nc"], _bench.Taken.Select(one => one.Name));
        var refused = _bench.Taken[1];
        Assert.Equal("no permission to read the file", refused.Refused);
        Assert.Equal("", refused.Sha256);
        Assert.Equal(1, refused.SizeBytes);
        Assert.True(_bench.Reports[^1].Clean);
        Assert.Equal(0, _bench.Reports[^1].Waiting);
    }

    [Fact]
    public void A_refused_file_is_taken_when_permission_is_given()
    {
        Share.Write("a.nc", "1");
        Share.Before = (call, _) =>
        {
            if (call == "open") throw new UnauthorizedAccessException();
        };
        _bench.ScanFor(10);
        Share.Before = (_, _) => { };
        _bench.ScanFor(64);

        Assert.Equal(2, _bench.Taken.Count);
        Assert.Equal("1", ShareBench.Text(_bench.Taken[1]));
    }

    [Fact]
    public void A_file_that_cannot_be_read_where_others_can_is_tried_for_a_while_and_then_refused()
    {
        Share.Write("a.nc", "1");
        Share.Before = (call, name) =>
        {
            if (call == "read" && name == "a.nc") throw MemoryShare.Fault(MemoryShare.Eio);
        };

        _bench.ScanFor(10);
        Share.Write("b.nc", "2");
        _bench.ScanFor(18);
        Assert.Equal(["b.nc"], _bench.Taken.Select(one => one.Name));
        Assert.Equal(1, _bench.Reports[^1].Waiting);
        _bench.ScanFor(12);

        Assert.Equal(["b.nc", "a.nc"], _bench.Taken.Select(one => one.Name));
        Assert.StartsWith("the file could not be read: ", _bench.Taken[1].Refused, StringComparison.Ordinal);
    }

    [Fact]
    public void A_share_that_lists_from_memory_and_reads_nothing_makes_no_fault_of_a_file()
    {
        Share.Write("a.nc", "1");
        Share.Write("b.nc", "2");
        Share.Before = (call, _) =>
        {
            if (call == "open") throw MemoryShare.Fault(MemoryShare.Eio);
        };

        _bench.ScanFor(590);
        Assert.Empty(_bench.Taken);
        Assert.Equal(2, _bench.Reports[^1].Waiting);
        Share.Before = (_, _) => { };
        _bench.ScanFor(10);

        Assert.Equal(["1", "2"], _bench.Texts);
    }

    [Fact]
    public void A_file_alone_that_cannot_be_read_is_refused_after_ten_minutes()
    {
        Share.Write("a.nc", "1");
        Share.Before = (call, _) =>
        {
            if (call == "read") throw MemoryShare.Fault(MemoryShare.Eio);
        };

        _bench.ScanFor(620);

        Assert.StartsWith("the file could not be read: ", Assert.Single(_bench.Taken).Refused, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_that_is_listed_and_never_there_is_refused_in_the_end()
    {
        Share.Write("a.nc", "1");
        Share.Before = (call, _) =>
        {
            if (call == "open") throw new FileNotFoundException();
        };

        _bench.ScanFor(60);

        Assert.Equal("the file is listed, but cannot be opened: it is not there", Assert.Single(_bench.Taken).Refused);
    }

    [Fact]
    public void A_link_is_refused_and_not_opened()
    {
        Share.Make("a.nc", EntryKind.Link);

        _bench.ScanFor(200);

        Assert.Equal("a link, not followed", Assert.Single(_bench.Taken).Refused);
        Assert.Equal(0, Share.Opened);
    }

    [Fact]
    public void A_folder_named_like_a_dump_is_refused_and_other_folders_are_nobodys_business()
    {
        Share.Make("a.nc", EntryKind.Folder);
        Share.Make("old", EntryKind.Folder);
        Share.Make("link", EntryKind.Link);

        _bench.ScanFor(10);

        var refused = Assert.Single(_bench.Taken);
        Assert.Equal("a.nc", refused.Name);
        Assert.Equal("a folder where a file was expected", refused.Refused);
    }

    [Fact]
    public void A_link_that_becomes_a_file_is_taken()
    {
        Share.Make("a.nc", EntryKind.Link);
        _bench.ScanFor(4);
        Share.Write("a.nc", "1");
        _bench.ScanFor(4);

        Assert.Equal(2, _bench.Taken.Count);
        Assert.Equal("1", ShareBench.Text(_bench.Taken[1]));
    }

    [Fact]
    public void A_file_larger_than_is_taken_is_refused_with_both_sizes()
    {
        var bench = new ShareBench(limits: new ScanLimits { MaxFileBytes = 10 });
        bench.Share.Write("a.nc", "12345678901");
        bench.ScanFor(200);

        Assert.Equal("the file has 11 bytes, more than the 10 that are taken", Assert.Single(bench.Taken).Refused);
    }
}
