using System.Text;

namespace SetupAudit.Shares;

/// <summary>Each version of a file once, whole, and only when it has settled.</summary>
public sealed class DocumentsTests
{
    private readonly ShareBench _bench = new();

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void A_young_file_waits_until_it_was_watched_for_settle()
    {
        Share.Write("a.nc", "1");
        _bench.Clock.Advance(1);

        var young = _bench.Scan();
        var stillYoung = _bench.ScanAfter(1.9);
        Assert.Empty(_bench.Taken);
        _bench.ScanAfter(0.1);

        Assert.Equal(1, young.Waiting);
        Assert.Equal(TimeSpan.FromSeconds(2), young.ReadyIn);
        Assert.Equal(TimeSpan.FromSeconds(0.25), stillYoung.ReadyIn);
        Assert.Equal(["1"], _bench.Texts);
    }

    [Fact]
    public void A_time_in_the_future_counts_as_settled_after_settle_of_watching()
    {
        Share.Write("a.nc", "1", new DateTime(2031, 1, 1, 0, 0, 0, DateTimeKind.Utc));

        _bench.Scan();
        Assert.Empty(_bench.Taken);
        _bench.ScanAfter(2);

        Assert.Equal(["1"], _bench.Texts);
    }

    [Fact]
    public void A_server_whose_clock_is_behind_does_not_make_a_growing_file_look_settled()
    {
        Share.Skew = TimeSpan.FromMinutes(-10);
        _bench.Scan();
        foreach (var text in new[] { "G10", "G10 L2", "G10 L2 P1 X1." })
        {
            Share.Write("a.nc", text);
            _bench.ScanAfter(1.5);
        }

        Assert.Empty(_bench.Taken);
        _bench.ScanFor(4);
        Assert.Equal(["G10 L2 P1 X1."], _bench.Texts);
    }

    [Fact]
    public void The_same_bytes_with_a_new_time_are_an_arrival_too()
    {
        Share.Write("a.nc", "1");
        _bench.ScanFor(4);

        Share.Write("a.nc", "1");
        _bench.ScanFor(4);

        Assert.Equal(["1", "1"], _bench.Texts);
        Assert.Equal(_bench.Taken[0].Sha256, _bench.Taken[1].Sha256);
        Assert.True(_bench.Taken[1].ModifiedUtc > _bench.Taken[0].ModifiedUtc);
    }

    [Fact]
    public void An_overwrite_in_place_with_the_same_size_and_time_is_found_by_the_rehash()
    {
        Share.Write("a.nc", "X-310.2");
        _bench.ScanFor(10);
        Share.Write("a.nc", "X-310.9", Share.Stamp("a.nc").ModifiedUtc);

        _bench.ScanFor(60);
        Assert.Single(_bench.Taken);
        _bench.ScanFor(15 * 60);

        Assert.Equal(["X-310.2", "X-310.9"], _bench.Texts);
    }

    [Fact]
    public void Every_file_is_read_once_a_rehash_and_not_all_at_the_same_time()
    {
        for (var i = 0; i < 200; i++) Share.Write($"{i}.nc", "1");
        _bench.ScanFor(10);
        var before = Share.Opened;
        var most = 0;
        for (var i = 0; i < 450; i++)
        {
            var opened = Share.Opened;
            _bench.ScanAfter(2);
            most = Math.Max(most, Share.Opened - opened);
        }

        Assert.InRange(Share.Opened - before, 200, 400);
        Assert.InRange(most, 1, 20);
        Assert.Equal(200, _bench.Taken.Count);
    }

    [Fact]
    public void An_empty_file_is_taken_when_it_has_settled()
    {
        Share.Write("a.nc", "");
        _bench.Scan();
        _bench.ScanAfter(2);

        var found = Assert.Single(_bench.Taken);
        Assert.Equal(0, found.SizeBytes);
        Assert.Null(found.Refused);
        Assert.Equal("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", found.Sha256);
    }

    [Fact]
    public void A_file_that_ends_in_nuls_is_read_twice_before_it_counts()
    {
        // A server may reserve the whole size when a copy starts; the bytes come later.
        var whole = Encoding.ASCII.GetBytes(new string('X', 200));
        Share.Write("a.nc", [.. whole[..100], .. new byte[100]]);
        var reserved = Share.Stamp("a.nc").ModifiedUtc;
        _bench.Clock.Advance(3);
        _bench.Scan();
        Share.Write("a.nc", whole, reserved);
        _bench.ScanFor(6);

        Assert.Equal([new string('X', 200)], _bench.Texts);
    }

    [Fact]
    public void A_file_of_nuls_alone_is_taken_in_the_end()
    {
        Share.Write("a.nc", new byte[300]);
        _bench.ScanFor(6);

        Assert.Equal(300, Assert.Single(_bench.Taken).SizeBytes);
    }

    [Fact]
    public void A_read_during_which_the_file_changes_is_discarded()
    {
        Share.Write("a.nc", "aaaaaaaaaa");
        Share.MostPerRead = 5;
        _bench.Clock.Advance(10);
        var reads = 0;
        Share.Before = (call, _) =>
        {
            if (call == "read" && ++reads == 2) Share.Write("a.nc", "bbbbbbbbbb");
        };

        var torn = _bench.Scan();
        Assert.Empty(_bench.Taken);
        _bench.ScanFor(6);

        Assert.True(torn.Clean);
        Assert.Equal(1, torn.Waiting);
        Assert.Equal(["bbbbbbbbbb"], _bench.Texts);
    }

    [Fact]
    public void A_file_that_has_more_bytes_than_its_size_says_is_not_taken()
    {
        Share.Write("a.nc", "aaaaa");
        _bench.Clock.Advance(10);
        var stamp = Share.Stamp("a.nc");
        Share.Before = (call, _) =>
        {
            // The size lags behind, as it does on a share that caches it: the stamp is put back after each read.
            if (call == "read") Share.Write("a.nc", "aaaaabbbbb", stamp.ModifiedUtc);
            if (call == "stat") Share.Write("a.nc", "aaaaa", stamp.ModifiedUtc);
        };
        _bench.Scan();

        Assert.Empty(_bench.Taken);
    }

    [Fact]
    public void On_a_mount_that_shows_old_sizes_it_is_read_twice_before_it_counts_and_no_later()
    {
        var bench = new ShareBench();
        (bench.Share.MountedOn, bench.Share.HoldsAttributes) = (MemoryShare.Nas, TimeSpan.FromSeconds(1));
        bench.Share.Write("a.nc", "first");
        bench.ScanAfter(0.5);
        var early = bench.ScanAfter(0.9);
        Assert.Equal(1, bench.Share.Opened);
        bench.ScanAfter(early.ReadyIn?.TotalSeconds ?? 0);

        Assert.Equal(2, bench.Share.Opened);
        Assert.Equal(["first"], bench.Texts);
        Assert.Equal(TimeSpan.FromSeconds(2.5), bench.TakenAt[0] - bench.Taken[0].ModifiedUtc);
    }

    [Fact]
    public void What_was_overwritten_while_it_was_read_is_not_taken_though_size_and_time_seem_to_stand()
    {
        var bench = new ShareBench();
        (bench.Share.MountedOn, bench.Share.HoldsAttributes) = (MemoryShare.Nas, TimeSpan.FromSeconds(1));
        bench.Share.MostPerRead = 4;
        bench.Share.Write("a.nc", "old old old");
        bench.Scan();
        var reads = 0;
        bench.Share.Before = (call, _) =>
        {
            if (call == "read" && ++reads == 2) bench.Share.Write("a.nc", "new new new");
        };
        bench.ScanFor(12);

        Assert.Equal(["new new new"], bench.Texts);
    }
}
