using System.Text;
using CsCheck;

namespace SetupAudit.Records;

public sealed class SignedNoteTests
{
    private const string Good = "a text\n\n— here.example/record AAAAAQI=\n";

    public static TheoryData<string> Published =>
    [
        .. Vectors.Of("signed-notes").Each("published").Select(vector => vector.Text("note")),
        .. Vectors.Of("signed-notes").Each("checkpoints").Select(vector => vector.Text("note")),
        .. Vectors.Of("signed-notes").Each("checkpoints").Select(vector => vector.Text("note") + vector.Text("cosignature")),
    ];

    [Theory, MemberData(nameof(Published))]
    public void A_published_note_is_read_and_written_back_byte_for_byte(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        Assert.True(SignedNote.TryRead(bytes, out var note, out var reason), reason);
        Assert.Equal(bytes, note.ToBytes());
    }

    [Fact]
    public void The_text_ends_at_the_last_empty_line()
    {
        Assert.True(SignedNote.TryRead(Encoding.UTF8.GetBytes("one\n\ntwo" + Good[6..]), out var note, out _));
        Assert.Equal("one\n\ntwo\n", note.Text);
        var line = Assert.Single(note.Signatures);
        Assert.Equal(("here.example/record", 1u), (line.Name, line.KeyId));
        Assert.Equal([2], line.Signature);
    }

    [Theory]
    [InlineData("", "no empty line parts its text from its signatures")]
    [InlineData("a text\n\n", "it has no signature")]
    [InlineData("a text\n— here.example/record AAAAAQI=\n", "no empty line parts its text from its signatures")]
    [InlineData("a text\n\n— here.example/record AAAAAQI=", "its last line is not ended")]
    [InlineData("a text\n\n— here.example/record AAAAAQI=\n\n", "it has no signature")]
    [InlineData("a text\n\n- here.example/record AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n—here.example/record AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here.example/record AAAAAQI= \n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here example AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here+example AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n—  AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— AAAAAQI=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here.example/record AAAAAQI\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here.example/record AAAAAQJ=\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here.example/record AAAAAQ==\n", "line 1 of its signatures is none")]
    [InlineData("a text\n\n— here.example/record AAAAAQI=\n— bad\n", "line 2 of its signatures is none")]
    [InlineData("a text\r\n\n— here.example/record AAAAAQI=\n", "it has a control character (0x0d)")]
    [InlineData("a\0text\n\n— here.example/record AAAAAQI=\n", "it has a control character (0x00)")]
    [InlineData("\uFEFFa text\n\n— here.example/record AAAAAQI=\n", "it begins with a byte order mark")]
    public void What_is_no_note_is_refused_with_what_is_wrong(string text, string expected)
    {
        Assert.False(SignedNote.TryRead(Encoding.UTF8.GetBytes(text), out _, out var reason));
        Assert.Equal(expected, reason);
    }

    [Fact]
    public void Bytes_that_are_not_utf8_are_refused()
    {
        Assert.False(SignedNote.TryRead([0xff, .. Encoding.UTF8.GetBytes(Good)], out _, out var reason));
        Assert.Equal("it is not UTF-8", reason);
    }

    [Theory]
    [InlineData(16, true), InlineData(64, true), InlineData(65, false)]
    public void As_many_signatures_as_the_format_asks_for_are_read_and_no_end_of_them(int count, bool read)
    {
        var text = "a text\n\n" + string.Concat(Enumerable.Repeat("— here.example/record AAAAAQI=\n", count));
        Assert.Equal(read, SignedNote.TryRead(Encoding.UTF8.GetBytes(text), out _, out var reason));
        Assert.Equal(read ? null : "it has more than 64 signatures", reason);
    }

    [Fact]
    public void A_note_without_end_is_refused_unread()
    {
        Assert.False(SignedNote.TryRead(new byte[SignedNote.BytesMost + 1], out _, out var reason));
        Assert.Equal("it has more than 65536 bytes", reason);
    }

    [Fact]
    public void Whatever_is_read_is_written_back_as_it_was() =>
        Gen.Select(Gen.Int[0, Good.Length - 1], Gen.Byte).Sample((at, other) =>
        {
            var bytes = Encoding.UTF8.GetBytes(Good);
            bytes[at] = other;
            return !SignedNote.TryRead(bytes, out var note, out _) || note.ToBytes().AsSpan().SequenceEqual(bytes);
        }, iter: 5000);
}
