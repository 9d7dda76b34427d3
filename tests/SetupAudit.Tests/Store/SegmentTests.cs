using System.Text;
using SetupAudit.Store.Segments;
using ZstdSharp;
using static SetupAudit.Store.TempStore;

namespace SetupAudit.Store;

public sealed class SegmentTests
{
    [Fact]
    public void The_check_value_of_crc_32c_is_the_published_one()
    {
        // RFC 3720 (iSCSI), B.4: 32 bytes of zeros and 32 of ones; the nine digits are the customary check value.
        Assert.Equal(0x8A9136AAu, Crc32C.Of(new byte[32]));
        Assert.Equal(0x62A8AB43u, Crc32C.Of(Enumerable.Repeat((byte)0xFF, 32).ToArray()));
        Assert.Equal(0xE3069283u, Crc32C.Of("123456789"u8));
    }

    [Fact]
    public void A_header_is_refused_whichever_of_its_bits_is_flipped()
    {
        var header = new byte[BlobHeader.Bytes];
        BlobHeader.Write(header, Hash("x"u8), 1, 2, 3);
        Assert.True(BlobHeader.TryRead(header, out var sha256, out var size, out var payload, out var crc));
        Assert.Equal((Hash("x"u8), 1L, 2L, 3u), (sha256, size, payload, crc));

        for (var bit = 0; bit < header.Length * 8; bit++)
        {
            var flipped = (byte[])header.Clone();
            flipped[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.False(BlobHeader.TryRead(flipped, out _, out _, out _, out _));
        }
    }

    [Fact]
    public void A_new_segment_begins_where_the_last_is_full()
    {
        using var temp = new TempStore();
        using var folder = new EvidenceFolder(temp.Folder);
        using var appender = EvidenceAppender.Open(folder, SegmentStanding.Nothing, segmentBytes: 1000);
        var texts = Enumerable.Range(0, 40).Select(number => $"dump number {number}").ToList();
        var places = texts.Select(text => appender.Append(Hash(Bytes(text)), Bytes(text))).ToList();
        appender.Flush();

        Assert.True(folder.Segments().Count > 2);
        Assert.Equal(texts, places.Select(place => Encoding.UTF8.GetString(folder.Read(place))));
        Assert.All(folder.Segments().SkipLast(1), segment => Assert.True(new FileInfo(folder.SegmentPath(segment)).Length >= 1000));
    }

    [Fact]
    public void More_segments_than_are_held_open_can_be_read()
    {
        using var temp = new TempStore();
        using var folder = new EvidenceFolder(temp.Folder);
        using var appender = EvidenceAppender.Open(folder, SegmentStanding.Nothing, segmentBytes: 1);
        var places = Enumerable.Range(0, 40).Select(number => appender.Append(Hash([(byte)number]), [(byte)number])).ToList();
        appender.Flush();

        Assert.Equal(40, folder.Segments().Count);
        Assert.All(Enumerable.Range(0, 40).Reverse(), number => Assert.Equal([(byte)number], folder.Read(places[number])));
    }

    [Fact]
    public void A_plain_frame_is_read_by_a_reader_with_a_window_of_one_block()
    {
        var bytes = new byte[3 * PlainFrame.BlockBytes];
        var frame = new byte[PlainFrame.StoredBytes(bytes.Length)];
        PlainFrame.WriteHeader(frame, bytes.Length);
        var at = PlainFrame.HeaderBytes;
        for (var block = 0; block < 3; block++)
        {
            PlainFrame.WriteBlockHeader(frame.AsSpan(at), PlainFrame.BlockBytes, last: block == 2);
            at += PlainFrame.BlockHeaderBytes + PlainFrame.BlockBytes;
        }

        using var stream = new DecompressionStream(new MemoryStream(frame));
        stream.SetParameter(ZstdSharp.Unsafe.ZSTD_dParameter.ZSTD_d_windowLogMax, 17);
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        Assert.Equal(bytes, copy.ToArray());
        Assert.Equal(frame.Length, at);
    }
}
