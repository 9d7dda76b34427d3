using System.Numerics;
using System.Text;
using CsCheck;

namespace SetupAudit.Readings;

public sealed class PlainTextTests
{
    private const string Block = "G10 L2 P1 X-310.2000\r\n";

    [Fact]
    public void Plain_bytes_are_not_copied()
    {
        var bytes = Encoding.ASCII.GetBytes(Block);
        Assert.True(PlainText.Of(bytes).Bytes == bytes);
    }

    [Fact]
    public void Letters_beyond_ASCII_stay_as_they_are_and_are_not_copied()
    {
        var bytes = Encoding.UTF8.GetBytes("(Spänner 2) " + Block);
        Assert.True(PlainText.Of(bytes).Bytes == bytes);
    }

    [Fact]
    public void Wide_and_marked_texts_become_plain_ones()
    {
        var plain = Encoding.UTF8.GetBytes("(Spänner) " + Block);
        Assert.All((Encoding[])[Encoding.UTF8, Encoding.Unicode, Encoding.BigEndianUnicode], encoding =>
            Assert.Equal(plain, Read([.. encoding.GetPreamble(), .. encoding.GetBytes("(Spänner) " + Block)])));
        Assert.All((Encoding[])[Encoding.Unicode, Encoding.BigEndianUnicode], encoding =>
            Assert.Equal(plain, Read(encoding.GetBytes("(Spänner) " + Block))));
    }

    [Fact]
    public void A_wide_text_cut_in_the_middle_of_a_character_loses_that_character()
    {
        byte[] bytes = [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Block)];
        Assert.Equal(Encoding.ASCII.GetBytes(Block[..^1]), Read(bytes[..^1]));
    }

    [Fact]
    public void Even_parity_is_stripped_where_every_byte_has_it() =>
        Assert.Equal(Encoding.ASCII.GetBytes(Block), Read(EvenParity(Block)));

    [Fact]
    public void One_byte_of_odd_parity_leaves_all_as_they_are()
    {
        byte[] bytes = [.. EvenParity(Block), (byte)'1'];
        Assert.Equal(bytes, Read(bytes));
    }

    [Fact]
    public void Filler_of_serial_captures_is_dropped()
    {
        byte[] bytes = [0, 0, 0x12, .. Encoding.ASCII.GetBytes("G1\0X2"), 0x7F, 0x13, (byte)'\n', 0x14, 0x1A];
        Assert.Equal("G1X2\n"u8.ToArray(), Read(bytes));
        Assert.False(PlainText.Of(bytes).EndsInNuls);
        Assert.True(PlainText.Of([.. bytes, 0]).EndsInNuls);
    }

    [Theory]
    [InlineData(new byte[0])]
    [InlineData(new byte[] { 0xEF, 0xBB, 0xBF })]
    [InlineData(new byte[] { 0xFF, 0xFE })]
    [InlineData(new byte[] { 0xFE, 0xFF })]
    [InlineData(new byte[] { 0, 0, 0, 0 })]
    public void A_file_without_text_gives_none(byte[] bytes) => Assert.Empty(Read(bytes));

    [Fact]
    public void Any_seven_bit_text_survives_even_parity_and_wide_characters() =>
        Gen.String[Gen.Char[' ', '~'], 4, 60].Sample(text =>
        {
            Assert.Equal(text, Encoding.ASCII.GetString(Read(EvenParity(text))));
            Assert.Equal(text, Encoding.ASCII.GetString(Read(Encoding.Unicode.GetBytes(text))));
            Assert.Equal(text, Encoding.ASCII.GetString(Read(Encoding.BigEndianUnicode.GetBytes(text))));
        });

    private static byte[] Read(byte[] bytes) => PlainText.Of(bytes).Bytes.ToArray();

    private static byte[] EvenParity(string text) => [.. Encoding.ASCII.GetBytes(text)
        .Select(code => (byte)((BitOperations.PopCount(code) & 1) == 0 ? code : code | 0x80))];
}
