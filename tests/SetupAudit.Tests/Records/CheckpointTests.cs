using System.Text;
using CsCheck;

namespace SetupAudit.Records;

public sealed class CheckpointTests
{
    private const string Root = "XcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQyg=";
    private const string Good = "example.com/setup-audit-test\n8\n" + Root + "\n";

    [Fact]
    public void The_published_checkpoints_say_their_size_and_root()
    {
        var roots = Vectors.Of("tree-0-to-8").Hashes("roots");
        foreach (var vector in Vectors.Of("signed-notes").Each("checkpoints"))
        {
            var size = vector.GetProperty("size").GetInt32();
            Assert.True(SignedNote.TryRead(Encoding.UTF8.GetBytes(vector.Text("note")), out var note, out _));
            Assert.True(Checkpoint.TryRead(note.Text, out var checkpoint, out var reason), reason);
            Assert.Equal(new Checkpoint("example.com/setup-audit-test", size, roots[size]), checkpoint);
            Assert.Equal(note.Text, checkpoint.ToString());
        }
    }

    [Theory]
    [InlineData("example.com/setup-audit-test\n08\n" + Root + "\n", "it is not written the one way a checkpoint is written")]
    [InlineData("example.com/setup-audit-test\n+8\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n-8\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n 8\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n8 \n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n8.0\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n٨\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n9223372036854775808\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test\n8\0\n" + Root + "\n", "it is not written the one way a checkpoint is written")]
    [InlineData("example.com/setup-audit-test\n8\r\n" + Root + "\n", "its size is not a whole number")]
    [InlineData("example.com/setup-audit-test \n8\n" + Root + "\n", "its origin is not a name")]
    [InlineData("\n8\n" + Root + "\n", "its origin is not a name")]
    [InlineData("example.com/setup-audit-test\n8\n" + Root, "a checkpoint has three lines: origin, size and root, each ended by a line feed")]
    [InlineData("example.com/setup-audit-test\n8\n" + Root + "\n\n", "a checkpoint has three lines: origin, size and root, each ended by a line feed")]
    [InlineData("example.com/setup-audit-test\n8\n" + Root + "\nmore\n", "a checkpoint has three lines: origin, size and root, each ended by a line feed")]
    [InlineData("example.com/setup-audit-test\n8\n" + Root + " \n", "its root is not a hash of 32 bytes in base64")]
    [InlineData("example.com/setup-audit-test\n8\nXcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQyg\n", "its root is not a hash of 32 bytes in base64")]
    [InlineData("example.com/setup-audit-test\n8\nXcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQyh=\n", "its root is not a hash of 32 bytes in base64")]
    [InlineData("example.com/setup-audit-test\n8\nXcnaeacGWamtVZy3Ad7ZoqudgjqtL0lgz+Nw7/RgQy==\n", "its root is not a hash of 32 bytes in base64")]
    public void A_checkpoint_written_another_way_is_refused_with_what_is_wrong(string text, string expected)
    {
        Assert.False(Checkpoint.TryRead(text, out _, out var reason));
        Assert.Equal(expected, reason);
    }

    [Fact]
    public void A_lookalike_origin_is_another_origin()
    {
        Assert.True(Checkpoint.TryRead("\u0435" + Good[1..], out var other, out _));
        Assert.NotEqual("example.com/setup-audit-test", other.Origin);
    }

    [Fact]
    public void Whatever_is_read_is_written_back_as_it_was() =>
        Gen.Select(Gen.Int[0, Good.Length - 1], Gen.Char).Sample((at, other) =>
        {
            var text = Good[..at] + other + Good[(at + 1)..];
            return !Checkpoint.TryRead(text, out var read, out _) || read.ToString() == text;
        }, iter: 5000);

    [Fact]
    public void Whatever_is_written_is_read_back() =>
        Gen.Select(Gen.Long[0, long.MaxValue], Gen.Byte.Array[32]).Sample((size, root) =>
        {
            var written = new Checkpoint("harrow-lane/record", size, TreeHash.From(root));
            return Checkpoint.TryRead(written.ToString(), out var read, out _) && read == written;
        }, iter: 500);
}
