using System.Text.Json;
using CsCheck;
using SetupAudit.Support;

namespace SetupAudit.Records;

public sealed class ProofTests
{
    // In place of the roots this vector has 12 bytes of which its source says that they do not matter.
    private const string NotCheckedThere = "consistency/additional/sizes-are-equal-one-and-proof-is-empty";

    public static TheoryData<string> Inclusions => Names("inclusion");

    public static TheoryData<string> Consistencies => Names("consistency");

    [Theory, MemberData(nameof(Inclusions))]
    public void An_inclusion_vector_of_another_log_comes_out_as_it_says(string name)
    {
        var vector = Vectors.Of("merkle-proofs").Each("inclusion").Single(one => one.Text("name") == name);
        Assert.Equal(!vector.GetProperty("refused").GetBoolean(), Included(vector));
    }

    [Theory, MemberData(nameof(Consistencies))]
    public void A_consistency_vector_of_another_log_comes_out_as_it_says(string name)
    {
        var vector = Vectors.Of("merkle-proofs").Each("consistency").Single(one => one.Text("name") == name);
        Assert.Equal(!vector.GetProperty("refused").GetBoolean() && name != NotCheckedThere, Consistent(vector));
    }

    [Fact]
    public void The_vectors_carried_here_are_all_that_were_published()
    {
        var published = Directory.GetFiles(
            Reference.At("integrity/merkle-transparency-dev/testdata"), "*.json", SearchOption.AllDirectories);
        Assert.Equal(published.Length, Inclusions.Count + Consistencies.Count);
    }

    [Fact]
    public void Proofs_for_0_to_8_are_made_as_published()
    {
        var file = Vectors.Of("tree-0-to-8");
        var leaves = file.Hashes("leaves");
        foreach (var vector in file.Each("inclusion"))
            Assert.Equal(vector.Hashes("proof"), InclusionProof.Make(
                vector.GetProperty("index").GetInt64(), vector.GetProperty("size").GetInt64(), Subtrees(leaves)));
        foreach (var vector in file.Each("consistency"))
            Assert.Equal(vector.Hashes("proof"), ConsistencyProof.Make(
                vector.GetProperty("older").GetInt64(), vector.GetProperty("newer").GetInt64(), Subtrees(leaves)));
    }

    [Fact]
    public void A_consistency_proof_is_written_one_way_and_read_back() =>
        Gen.Int[1, 200].SelectMany(size => Gen.Select(Gen.Const(size), Gen.Int[1, size])).Sample((newer, older) =>
        {
            var leaves = MerkleTreeTests.Numbered(newer).Select(leaf => TreeHash.From(leaf)).ToList();
            var root = MerkleTree.Root(leaves.Take(older));
            var text = new ConsistencyText(older, root, newer, ConsistencyProof.Make(older, newer, Subtrees(leaves))).ToString();
            Assert.True(ConsistencyText.TryRead(text, root, out var read), text);
            Assert.True(ConsistencyProof.Holds(older, root, newer, MerkleTree.Root(leaves), read.Hashes));
            // As the page tells: two hashes carried along.
            var (before, after) = (default(TreeHash), default(TreeHash));
            foreach (var line in text.Split('\n')[2..^1])
            {
                Assert.True(TreeHash.TryParse(line.Split(' ')[1], out var hash));
                if (line.StartsWith("start ", StringComparison.Ordinal)) (before, after) = (hash, hash);
                else if (line.StartsWith("both ", StringComparison.Ordinal)) (before, after) = (MerkleTree.Node(hash, before), MerkleTree.Node(hash, after));
                else after = MerkleTree.Node(after, hash);
            }
            Assert.Equal((root, MerkleTree.Root(leaves)), (before, after));
            foreach (var other in new[] { text + "\n", text[..^1], " " + text, text.Replace("start ", "both ", StringComparison.Ordinal), text.ToUpperInvariant() })
                Assert.False(ConsistencyText.TryRead(other, root, out _));
        });

    [Fact]
    public void The_second_implementation_makes_the_same_proofs() =>
        Gen.Int[1, 200].SelectMany(size => Gen.Select(Gen.Const(size), Gen.Int[0, size - 1])).Sample((size, index) =>
        {
            var bytes = MerkleTreeTests.Numbered(size);
            var leaves = bytes.Select(leaf => TreeHash.From(leaf)).ToList();
            Assert.Equal(
                SecondTree.Path(index, bytes).Select(hash => TreeHash.From(hash)),
                InclusionProof.Make(index, size, Subtrees(leaves)));
            Assert.Equal(
                SecondTree.Consistency(index + 1, bytes).Select(hash => TreeHash.From(hash)),
                ConsistencyProof.Make(index + 1, size, Subtrees(leaves)));
        }, iter: 300);

    [Fact]
    public void Every_inclusion_proof_holds_and_no_single_change_of_it_does() =>
        Gen.Int[1, 70].SelectMany(size => Gen.Select(Gen.Const(size), Gen.Int[0, size - 1])).Sample((size, index) =>
        {
            var leaves = Leaves(size);
            var (leaf, root) = (leaves[index], MerkleTree.Root(leaves));
            var proof = InclusionProof.Make(index, size, Subtrees(leaves));
            Assert.True(InclusionProof.Holds(leaf, index, size, proof, root));
            foreach (var other in Enumerable.Range(-1, size + 2).Where(other => other != index))
                Assert.False(InclusionProof.Holds(leaf, other, size, proof, root), $"index {other}");
            Assert.False(InclusionProof.Holds(Flipped(leaf), index, size, proof, root));
            Assert.False(InclusionProof.Holds(leaf, index, size, proof, Flipped(root)));
            foreach (var other in Altered(proof)) Assert.False(InclusionProof.Holds(leaf, index, size, other, root));
        }, iter: 200);

    // A leaf far from the right edge keeps its path when the size is given as one that splits alike, so the size is
    // proved by the signed root, not by an inclusion proof; RFC 9162 asks for no more.
    [Fact]
    public void Every_consistency_proof_holds_and_no_single_change_of_it_does() =>
        Gen.Int[1, 70].SelectMany(size => Gen.Select(Gen.Const(size), Gen.Int[1, size])).Sample((newer, older) =>
        {
            var leaves = Leaves(newer);
            var (oldRoot, newRoot) = (MerkleTree.Root(leaves.Take(older)), MerkleTree.Root(leaves));
            var proof = ConsistencyProof.Make(older, newer, Subtrees(leaves));
            Assert.True(ConsistencyProof.Holds(older, oldRoot, newer, newRoot, proof));
            Assert.False(ConsistencyProof.Holds(older, Flipped(oldRoot), newer, newRoot, proof));
            Assert.False(ConsistencyProof.Holds(older, oldRoot, newer, Flipped(newRoot), proof));
            Assert.False(ConsistencyProof.Holds(0, oldRoot, newer, newRoot, proof));
            Assert.False(ConsistencyProof.Holds(newer + 1, oldRoot, newer, newRoot, proof));
            foreach (var other in Altered(proof))
                Assert.False(ConsistencyProof.Holds(older, oldRoot, newer, newRoot, other));
        }, iter: 200);

    [Fact]
    public void A_proof_of_more_than_64_hashes_is_refused()
    {
        var hash = MerkleTree.EmptyRoot;
        var proof = Enumerable.Repeat(hash, 65).ToList();
        Assert.False(InclusionProof.Holds(hash, 0, long.MaxValue, proof, hash));
        Assert.False(ConsistencyProof.Holds(1, hash, long.MaxValue, hash, proof));
    }

    [Fact]
    public void No_proof_is_made_for_what_a_tree_does_not_have()
    {
        var subtrees = Subtrees(Leaves(4));
        Assert.Throws<ArgumentOutOfRangeException>(() => InclusionProof.Make(4, 4, subtrees));
        Assert.Throws<ArgumentOutOfRangeException>(() => InclusionProof.Make(-1, 4, subtrees));
        Assert.Throws<ArgumentOutOfRangeException>(() => ConsistencyProof.Make(0, 4, subtrees));
        Assert.Throws<ArgumentOutOfRangeException>(() => ConsistencyProof.Make(5, 4, subtrees));
    }

    internal static Func<long, long, TreeHash> Subtrees(IReadOnlyList<TreeHash> leaves) =>
        (from, count) => MerkleTree.Root(leaves.Skip((int)from).Take((int)count));

    private static List<TreeHash> Leaves(int count) =>
        [.. MerkleTreeTests.Numbered(count).Select(leaf => TreeHash.From(leaf))];

    private static TreeHash Flipped(TreeHash hash)
    {
        var bytes = hash.ToArray();
        bytes[^1] ^= 1;
        return TreeHash.From(bytes);
    }

    private static IEnumerable<IReadOnlyList<TreeHash>> Altered(IReadOnlyList<TreeHash> proof)
    {
        yield return [.. proof, MerkleTree.EmptyRoot];
        yield return [MerkleTree.EmptyRoot, .. proof];
        if (proof.Count == 0) yield break;
        yield return [.. proof.Skip(1)];
        yield return [.. proof.SkipLast(1)];
        if (proof.Count > 1) yield return [.. proof.Reverse()];
        for (var at = 0; at < proof.Count; at++)
            yield return [.. proof.Take(at), Flipped(proof[at]), .. proof.Skip(at + 1)];
    }

    // Sizes beyond a signed 64-bit number are refused where they are read.
    private static bool Included(JsonElement vector) =>
        vector.GetProperty("index").TryGetInt64(out var index) && vector.GetProperty("size").TryGetInt64(out var size)
        && vector.TryHash("leaf", out var leaf) && vector.TryHash("root", out var root)
        && vector.TryProof(out var proof) && InclusionProof.Holds(leaf, index, size, proof, root);

    private static bool Consistent(JsonElement vector) =>
        vector.GetProperty("older").TryGetInt64(out var older) && vector.GetProperty("newer").TryGetInt64(out var newer)
        && vector.TryHash("olderRoot", out var olderRoot) && vector.TryHash("newerRoot", out var newerRoot)
        && vector.TryProof(out var proof) && ConsistencyProof.Holds(older, olderRoot, newer, newerRoot, proof);

    private static TheoryData<string> Names(string kind) =>
        [.. Vectors.Of("merkle-proofs").Each(kind).Select(vector => vector.Text("name"))];
}
