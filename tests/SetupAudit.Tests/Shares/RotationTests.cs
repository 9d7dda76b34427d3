using SetupAudit.Shop;

namespace SetupAudit.Shares;

/// <summary>What was taken under one name is not taken again under another.</summary>
public sealed class RotationTests
{
    private readonly ShareBench _bench = new(SourceKind.PrintOut, "*.log*");

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void A_rotated_file_is_not_read_again_and_the_new_one_is()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Rename("x.log", "x.log.1");
        Share.Write("x.log", "three\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
        Assert.Equal(["x.log", "x.log"], _bench.Taken.Select(one => one.Name));
        Assert.Equal(0, _bench.Taken[1].OffsetBytes);
    }

    [Fact]
    public void What_was_written_just_before_the_rotation_is_taken_under_the_new_name()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Append("x.log", "three\n");
        Share.Rename("x.log", "x.log.1");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
        var late = _bench.Taken[1];
        Assert.Equal(("x.log.1", 8L, 3), (late.Name, late.OffsetBytes, late.FirstLine));
        Assert.Equal(_bench.Taken[0].ModifiedUtc, late.PreviousUtc);
    }

    [Fact]
    public void A_chain_of_rotations_is_followed()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        foreach (var text in new[] { "two\n", "three\n", "four\n" })
        {
            Share.Append("x.log", "late " + text);
            if (Share.Has("x.log.2")) Share.Rename("x.log.2", "x.log.3");
            if (Share.Has("x.log.1")) Share.Rename("x.log.1", "x.log.2");
            Share.Rename("x.log", "x.log.1");
            _bench.Clock.Advance(1);
            Share.Write("x.log", text);
            _bench.ScanFor(6);
        }

        Assert.Equal(
            ["one\n", "late two\n", "two\n", "late three\n", "three\n", "late four\n", "four\n"], _bench.Texts);
    }

    [Fact]
    public void A_rotation_while_the_service_was_down_is_followed()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        _bench.Restart();
        Share.Append("x.log", "three\n");
        Share.Rename("x.log", "x.log.1");
        _bench.Clock.Advance(5);
        Share.Write("x.log", "four\n");
        _bench.ScanAfter(600);

        Assert.Equal(["one\ntwo\n", "three\n", "four\n"], _bench.Texts);
    }

    [Fact]
    public void A_copy_that_is_cut_afterwards_is_not_read_again()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Write("x.log.1", Share.Bytes("x.log"));
        Share.Write("x.log", "");
        _bench.ScanFor(6);
        Share.Append("x.log", "three\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
    }

    [Fact]
    public void A_listing_that_misses_the_renamed_file_at_first_does_not_make_it_new()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Rename("x.log", "hidden");
        Share.Write("x.log", "three\n");
        _bench.ScanFor(10);
        Share.Rename("hidden", "x.log.1");
        _bench.ScanFor(10);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
    }

    [Fact]
    public void A_rename_to_any_name_with_the_same_time_is_not_read_again()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Rename("x.log", "march.log");
        _bench.ScanFor(6);
        Share.Append("march.log", "three\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
        Assert.Equal(["march.log"], _bench.Kept.Keys.Where(name => name.Length > 0));
    }

    [Fact]
    public void A_rename_is_followed_only_when_the_store_has_kept_it()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        Share.Append("x.log", "two\n");
        Share.Rename("x.log", "x.log.1");
        _bench.BeforeTakeIn = _ => throw new InvalidOperationException("disk full");
        _bench.ScanAfter(1);
        Assert.Throws<InvalidOperationException>(() => _bench.ScanAfter(3));
        _bench.Restart();
        _bench.BeforeTakeIn = _ => { };
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "two\n"], _bench.Texts);
    }
}
