using System.Text;
using CsCheck;

namespace SetupAudit.Records;

public sealed class MerkleTreeTests
{
    // RFC 6962, hashing as published with transparency-dev/merkle: the file names the commit.
    [Fact]
    public void Leaves_and_roots_of_0_to_8_are_the_published_ones()
    {
        var file = Vectors.Of("tree-0-to-8");
        var inputs = file.Each("inputs").Select(input => Convert.FromHexString(input.GetString() ?? "")).ToList();
        var leaves = inputs.Select(input => MerkleTree.Leaf(input)).ToList();
        Assert.Equal(file.Hashes("leaves"), leaves);
        Assert.Equal(file.Hashes("roots"), Enumerable.Range(0, 9).Select(size => MerkleTree.Root(leaves.Take(size))));
    }

    // transparency-dev/merkle, rfc6962_test.go.
    [Fact]
    public void A_leaf_and_a_node_are_hashed_as_published()
    {
        Assert.Equal("395aa064aa4c29f7010acfe3f25db9485bbd4b91897b6ad7ad547639252b4d56",
            MerkleTree.Leaf("L123456"u8).ToString());
        // The published node has two texts of four letters in the place of hashes; only the prefix is shared with it.
        var (left, right) = (TreeHash.Of("N123"u8), TreeHash.Of("N456"u8));
        Assert.Equal(
            Convert.ToHexStringLower(SecondTree.Node(left.ToArray(), right.ToArray())),
            MerkleTree.Node(left, right).ToString());
        Assert.Equal("aa217fe888e47007fa15edab33c2b492a722cb106c64667fc2b044444de66bbb",
            Convert.ToHexStringLower(SecondTree.Node("N123"u8.ToArray(), "N456"u8.ToArray())));
    }

    [Fact]
    public void A_body_longer_than_the_stack_gives_is_hashed_whole() =>
        Gen.Byte.Array[1000, 5000].Sample(body =>
            MerkleTree.Leaf(body).ToString() == Convert.ToHexStringLower(SecondTree.Leaf(body)), iter: 50);

    [Fact]
    public void The_second_implementation_agrees_at_every_size_to_130()
    {
        var leaves = Numbered(130);
        var range = new CompactRange();
        for (var size = 0; size <= leaves.Length; size++)
        {
            Assert.Equal(SecondTree.Root(leaves.AsSpan(0, size)), range.Root().ToArray());
            if (size < leaves.Length) range.Append(TreeHash.From(leaves[size]));
        }
    }

    [Fact]
    public void A_frontier_goes_through_bytes_and_goes_on_as_if_it_had_not_stopped() =>
        Gen.Select(Gen.Int[0, 300], Gen.Int[0, 40]).Sample((first, then) =>
        {
            var leaves = Numbered(first + then).Select(leaf => TreeHash.From(leaf)).ToList();
            var begun = new CompactRange();
            leaves.Take(first).ToList().ForEach(begun.Append);
            Assert.True(CompactRange.TryRead(begun.ToBytes(), out var read));
            var copy = new CompactRange(begun.Size, begun.Frontier);
            leaves.Skip(first).ToList().ForEach(read.Append);
            leaves.Skip(first).ToList().ForEach(copy.Append);
            return read.Size == leaves.Count && read.Root() == MerkleTree.Root(leaves) && copy.Root() == read.Root()
                && begun.Size == first;
        }, iter: 200);

    [Fact]
    public void Bytes_that_are_no_frontier_are_refused()
    {
        var range = new CompactRange();
        for (var count = 0; count < 5; count++) range.Append(MerkleTree.EmptyRoot);
        var bytes = range.ToBytes();
        Assert.Equal(8 + 2 * 32, bytes.Length);
        for (var length = 0; length < bytes.Length; length++)
            Assert.False(CompactRange.TryRead(bytes.AsSpan(0, length), out _), $"{length} bytes");
        Assert.False(CompactRange.TryRead([.. bytes, 0], out _));
        bytes[0] |= 0x80;
        Assert.False(CompactRange.TryRead(bytes, out _));
        Assert.Throws<ArgumentException>(() => new CompactRange(5, [MerkleTree.EmptyRoot]));
    }

    [Theory]
    [InlineData(0), InlineData(12), InlineData(31), InlineData(33)]
    public void A_hash_of_another_length_is_none(int bytes)
    {
        Assert.False(TreeHash.TryRead(new byte[bytes], out _));
        Assert.Throws<ArgumentException>(() => TreeHash.From(new byte[bytes]));
    }

    [Fact]
    public void A_hash_is_read_only_as_it_is_written()
    {
        var text = MerkleTree.EmptyRoot.ToString();
        Assert.Equal("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", text);
        Assert.True(TreeHash.TryParse(text, out var read));
        Assert.Equal(MerkleTree.EmptyRoot, read);
        foreach (var other in new[] { null, "", text.ToUpperInvariant(), text[1..], text + "0", " " + text[1..] })
            Assert.False(TreeHash.TryParse(other, out _), other);
    }

    internal static byte[][] Numbered(int count) =>
        [.. Enumerable.Range(0, count).Select(number => SecondTree.Leaf(Encoding.UTF8.GetBytes($"record {number}")))];
}
