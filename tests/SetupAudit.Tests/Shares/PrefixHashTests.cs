using CsCheck;

namespace SetupAudit.Shares;

public sealed class PrefixHashTests
{
    private static readonly Gen<byte[]> Bytes =
        Gen.Int[0, 5 * PrefixHash.Block].Select(Gen.Byte, (size, seed) => Filled(size, seed));

    [Fact]
    public void A_beginning_has_one_mark_however_it_was_fed() =>
        Gen.Select(Bytes, Gen.Int[1, 50_000]).Sample((bytes, part) =>
        {
            var pieces = new PrefixHash();
            foreach (var piece in bytes.Chunk(part)) pieces.Append(piece);
            return pieces.Mark() == Whole(bytes).Mark();
        }, iter: 200);

    [Fact]
    public void A_resumed_hash_goes_on_as_if_it_had_never_stopped() =>
        Gen.Select(Bytes, Gen.Double[0, 1]).Sample((bytes, cut) =>
        {
            var at = (int)(bytes.Length * cut);
            var mark = Whole(bytes[..at]).Mark();
            var resumed = PrefixHash.Resume(mark, bytes.AsSpan((int)mark.ChainedBytes, at - (int)mark.ChainedBytes));
            Assert.NotNull(resumed);
            resumed.Append(bytes.AsSpan(at));
            return resumed.Mark() == Whole(bytes).Mark();
        }, iter: 200);

    [Fact]
    public void A_window_with_one_other_byte_does_not_resume() =>
        Gen.Select(Bytes.Where(bytes => bytes.Length > 0), Gen.Int[0, int.MaxValue]).Sample((bytes, pick) =>
        {
            var mark = Whole(bytes).Mark();
            var window = bytes[(int)mark.ChainedBytes..];
            window[pick % window.Length] ^= 1;
            return PrefixHash.Resume(mark, window) is null;
        }, iter: 200);

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 1)]
    [InlineData(PrefixHash.Block, PrefixHash.Block)]
    [InlineData(2 * PrefixHash.Block, PrefixHash.Block)]
    [InlineData((3 * PrefixHash.Block) - 1, (2 * PrefixHash.Block) - 1)]
    public void At_least_a_block_before_the_offset_is_proved_and_at_most_two(int size, int window)
    {
        var mark = Whole(Filled(size, 1)).Mark();
        Assert.Equal(window, mark.OffsetBytes - mark.ChainedBytes);
    }

    private static PrefixHash Whole(byte[] bytes)
    {
        var hash = new PrefixHash();
        hash.Append(bytes);
        return hash;
    }

    private static byte[] Filled(int size, byte seed)
    {
        var bytes = new byte[size];
        for (var i = 0; i < size; i++) bytes[i] = (byte)(((i * 31) + seed) & 0xFF);
        return bytes;
    }
}
