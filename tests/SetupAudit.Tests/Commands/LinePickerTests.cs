using System.Text;

namespace SetupAudit.Commands;

public sealed class LinePickerTests
{
    [Theory]
    [InlineData("one\ntwo\nthree", 2, "two")]
    [InlineData("one\r\ntwo\r\nthree", 3, "three")]
    [InlineData("one\rtwo\rthree", 2, "two")]
    [InlineData("one\n\nthree", 3, "three")]
    [InlineData("one\n\rthree", 3, "three")]
    public void A_line_is_counted_as_the_readers_count_it(string text, int line, string expected) =>
        Assert.Equal(expected, LinePicker.Pick(Encoding.UTF8.GetBytes(text), new HashSet<int> { line })[line]);

    [Fact]
    public void A_line_that_is_not_there_is_not_found() =>
        Assert.Empty(LinePicker.Pick("one\ntwo\n"u8, new HashSet<int> { 4 }));

    [Fact]
    public async Task A_serial_capture_with_parity_is_quoted_as_it_reads()
    {
        byte[] even = [.. "G10 L2 P1\n"u8.ToArray().Select(code =>
            (byte)(System.Numerics.BitOperations.PopCount(code) % 2 == 0 ? code : code | 0x80))];
        using var bytes = new MemoryStream(even);

        var lines = await LinePicker.PickAsync(bytes, new HashSet<int> { 1 }, TestContext.Current.CancellationToken);

        Assert.Equal("G10 L2 P1", lines[1]);
    }
}
