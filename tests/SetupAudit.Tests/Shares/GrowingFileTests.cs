using System.Text;
using SetupAudit.Shop;

namespace SetupAudit.Shares;

/// <summary>A print-out is never read twice, and never half a line (contract, section 3).</summary>
public sealed class GrowingFileTests
{
    private readonly ShareBench _bench = new(SourceKind.PrintOut, "*.log");

    private MemoryShare Share => _bench.Share;

    [Fact]
    public void What_was_appended_is_an_arrival_of_its_own()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        Share.Append("x.log", "three\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
        var (first, second) = (_bench.Taken[0], _bench.Taken[1]);
        Assert.Equal((0L, 1), (first.OffsetBytes, first.FirstLine));
        Assert.Null(first.PreviousUtc);
        Assert.Equal((8L, 3), (second.OffsetBytes, second.FirstLine));
        Assert.Equal(first.ModifiedUtc, second.PreviousUtc);
        Assert.Equal(6, second.SizeBytes);
    }

    [Fact]
    public void A_restart_goes_on_behind_the_last_line_taken()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        _bench.Restart();
        Share.Append("x.log", "two\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "two\n"], _bench.Texts);
    }

    [Fact]
    public void An_unfinished_last_line_counts_when_it_is_finished()
    {
        Share.Write("x.log", "one\nTOUCH bore-1 SIZE 25.");
        _bench.ScanFor(20);
        Share.Append("x.log", "003\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "TOUCH bore-1 SIZE 25.003\n"], _bench.Texts);
        Assert.Equal(2, _bench.Taken[1].FirstLine);
    }

    [Fact]
    public void An_unfinished_last_line_counts_after_sixty_seconds_unchanged()
    {
        Share.Write("x.log", "one\ntwo");
        _bench.Scan();
        _bench.ScanFor(58);
        Assert.Equal(["one\n"], _bench.Texts);
        Assert.Equal(1, _bench.Reports[^1].Waiting);

        _bench.ScanFor(4);
        Assert.Equal(["one\n", "two"], _bench.Texts);
        Assert.Equal(0, _bench.Reports[^1].Waiting);
    }

    [Fact]
    public void An_old_file_gives_its_unfinished_line_at_once()
    {
        Share.Write("x.log", "one\ntwo");
        _bench.ScanAfter(60);

        Assert.Equal(["one\ntwo"], _bench.Texts);
    }

    [Fact]
    public void A_line_goes_on_after_it_counted_unfinished_and_keeps_its_number()
    {
        Share.Write("x.log", "one\ntwo");
        _bench.ScanAfter(60);
        Share.Append("x.log", " and more\nthree\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo", " and more\nthree\n"], _bench.Texts);
        Assert.Equal(2, _bench.Taken[1].FirstLine);
    }

    [Fact]
    public void A_tail_that_was_seen_unfinished_is_younger_than_the_look_before_that()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        var whole = Share.Stamp("x.log").ModifiedUtc;
        Share.Append("x.log", "tw");
        _bench.ScanFor(10);
        Share.Append("x.log", "o\n");
        _bench.ScanFor(6);

        Assert.Equal(new DateTimeOffset(whole), _bench.Taken[1].PreviousUtc);
    }

    [Theory]
    [InlineData("one\r\ntwo\r\nthr", "one\r\ntwo\r\n", 3)]
    [InlineData("one\rtwo\rthr", "one\rtwo\r", 3)]
    [InlineData("\n\n\nthr", "\n\n\n", 4)]
    [InlineData("one\r\n\rtwo\nthr", "one\r\n\rtwo\n", 4)]
    public void Lines_end_in_lf_crlf_or_cr_and_are_counted_so(string written, string taken, int next)
    {
        Share.Write("x.log", written);
        _bench.ScanFor(6);
        Share.Append("x.log", "ee\r\n");
        _bench.ScanFor(6);

        Assert.Equal([taken, "three\r\n"], _bench.Texts);
        Assert.Equal(next, _bench.Taken[1].FirstLine);
    }

    [Fact]
    public void A_line_end_that_comes_in_two_halves_is_one()
    {
        Share.Write("x.log", "one\r\ntwo\r");
        _bench.ScanAfter(60);
        Share.Append("x.log", "\nthree\r\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\r\ntwo\r", "three\r\n"], _bench.Texts);
        Assert.Equal((10L, 3), (_bench.Taken[1].OffsetBytes, _bench.Taken[1].FirstLine));
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, true)]
    [InlineData(false, false)]
    [InlineData(true, false)]
    public void Sixteen_bit_text_is_cut_between_its_characters(bool isBig, bool hasMark)
    {
        var encoding = new UnicodeEncoding(isBig, hasMark);
        // U+0A0D and U+0D0A hold the bytes of line ends and are none.
        byte[] first = [.. encoding.GetPreamble(), .. encoding.GetBytes("eins\r\nzwei\u0a0d\u0d0a\r\ndr")];
        byte[] second = [.. first, .. encoding.GetBytes("ei\r\n")];
        Share.Write("x.log", first);
        _bench.ScanFor(6);
        Share.Write("x.log", second);
        _bench.ScanFor(6);

        Assert.Equal(2, _bench.Taken.Count);
        Assert.Equal("drei\r\n", encoding.GetString(Encoding.Latin1.GetBytes(_bench.Texts[1])));
        Assert.Equal(3, _bench.Taken[1].FirstLine);
    }

    [Fact]
    public void A_file_that_was_cut_and_started_again_is_read_from_its_start()
    {
        Share.Write("x.log", "one\ntwo\nthree\n");
        _bench.ScanFor(6);
        var last = _bench.Taken[0].ModifiedUtc;
        Share.Write("x.log", "four\n");
        _bench.ScanFor(6);
        Share.Append("x.log", "five\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\nthree\n", "four\n", "five\n"], _bench.Texts);
        Assert.Equal((0L, 1), (_bench.Taken[1].OffsetBytes, _bench.Taken[1].FirstLine));
        Assert.Equal(last, _bench.Taken[1].PreviousUtc);
    }

    [Fact]
    public void A_file_rewritten_to_more_than_before_is_read_from_its_start()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        Share.Write("x.log", "six\nseven\neight\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "six\nseven\neight\n"], _bench.Texts);
    }

    [Fact]
    public void A_new_time_without_new_bytes_is_no_arrival()
    {
        Share.Write("x.log", "one\n");
        _bench.ScanFor(6);
        Share.Touch("x.log", Share.Now);
        _bench.ScanFor(6);
        Share.Append("x.log", "two\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "two\n"], _bench.Texts);
    }

    [Fact]
    public void A_size_that_lags_behind_does_not_make_a_file_look_cut()
    {
        Share.Write("x.log", "one\ntwo\n");
        _bench.ScanFor(6);
        var whole = Share.Bytes("x.log");
        Share.Touch("x.log", Share.Now);
        Share.Before = (call, _) =>
        {
            // Stat shows an old size; reading gives all.
            if (call is "stat" or "entry") Share.Write("x.log", "one\n", Share.Now);
            if (call is "read") Share.Write("x.log", whole, Share.Now);
        };
        _bench.ScanFor(10);
        Share.Before = (_, _) => { };
        Share.Write("x.log", "one\ntwo\nthree\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\ntwo\n", "three\n"], _bench.Texts);
    }

    [Fact]
    public void Reserved_bytes_at_the_end_are_not_taken_as_a_line()
    {
        Share.Write("x.log", [.. "one\ntw"u8, .. new byte[50]]);
        _bench.ScanFor(70);
        Share.Write("x.log", "one\ntwo\nthree\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "tw", "o\nthree\n"], _bench.Texts);
    }

    [Fact]
    public void A_print_out_that_never_rests_is_read_all_the_same()
    {
        for (var i = 0; i < 40; i++)
        {
            Share.Append("x.log", $"line {i}\n");
            _bench.ScanAfter(1);
        }

        _bench.ScanFor(4);

        Assert.InRange(_bench.Taken.Count, 3, 10);
        Assert.Equal(Encoding.ASCII.GetString(Share.Bytes("x.log")), string.Concat(_bench.Texts));
    }

    [Fact]
    public void A_line_that_was_altered_long_before_the_end_is_found_by_the_rehash()
    {
        var lines = string.Concat(Enumerable.Range(0, 10_000).Select(i => $"line {i}\n"));
        Share.Write("x.log", lines);
        _bench.ScanFor(6);
        var altered = lines.Replace("line 17\n", "line 71\n", StringComparison.Ordinal);
        Share.Write("x.log", altered, Share.Stamp("x.log").ModifiedUtc);
        _bench.ScanFor(15 * 60);

        Assert.Equal([lines, altered], _bench.Texts);
    }

    [Fact]
    public void A_large_piece_is_handed_out_as_a_stream()
    {
        var bench = new ShareBench(SourceKind.PrintOut, "*.log", new ScanLimits { HeldBytes = 1000 });
        bench.Share.Write("x.log", "one\n");
        bench.ScanFor(6);
        var lines = string.Concat(Enumerable.Range(0, 1000).Select(i => $"line {i}\n"));
        bench.Share.Append("x.log", lines);
        bench.Share.MostPerRead = 333;
        bench.ScanFor(6);
        bench.Share.Append("x.log", "end\n");
        bench.ScanFor(6);

        Assert.Null(bench.Taken[1].Bytes);
        Assert.Equal(["one\n", lines, "end\n"], bench.Texts);
        Assert.Equal(1002, bench.Taken[2].FirstLine);
    }

    [Fact]
    public void Growing_while_it_is_read_is_no_fault()
    {
        Share.Write("x.log", "one\n");
        _bench.Clock.Advance(60);
        var isFirst = true;
        Share.Before = (call, _) =>
        {
            if (call != "read" || !isFirst) return;
            isFirst = false;
            Share.Append("x.log", "two\n");
        };
        _bench.Scan();
        Assert.Equal(["one\n"], _bench.Texts);
        _bench.ScanFor(6);

        Assert.Equal(["one\n", "two\n"], _bench.Texts);
    }

    [Fact]
    public void An_empty_print_out_says_nothing_and_is_no_arrival()
    {
        Share.Write("x.log", "");
        _bench.ScanFor(120);
        Share.Append("x.log", "one\n");
        _bench.ScanFor(6);

        Assert.Equal(["one\n"], _bench.Texts);
    }

    [Fact]
    public void One_file_a_print_is_one_arrival_a_print_even_where_two_are_equal()
    {
        Share.Write("print-001.log", "BORE 25.003\n");
        _bench.ScanFor(6);
        Share.Write("print-002.log", "BORE 25.003\n");
        _bench.ScanFor(6);
        Share.Delete("print-001.log");
        _bench.ScanFor(6);
        Share.Write("print-003.log", "BORE 25.003\n");
        _bench.ScanFor(6);

        Assert.Equal(["print-001.log", "print-002.log", "print-003.log"], _bench.Taken.Select(one => one.Name));
    }
}
