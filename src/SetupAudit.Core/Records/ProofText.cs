using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text;

namespace SetupAudit.Records;

/// <summary>
/// An inclusion proof as a person can follow it: the index of the leaf, the size of the tree, and a line for each hash
/// that says on which side of the one before it stands.
/// </summary>
public sealed record ProofText(long Index, long Size, IReadOnlyList<TreeHash> Hashes)
{
    private const string Left = "left";
    private const string Right = "right";
    private const int HeadLines = 2;

    public override string ToString()
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"index {Index}\nsize {Size}\n");
        var (fn, sn) = (Index, Size - 1);
        foreach (var hash in Hashes)
        {
            var isLeft = (fn & 1) == 1 || fn == sn;
            text.Append(isLeft ? Left : Right).Append(' ').Append(hash).Append('\n');
            if (isLeft)
                for (; (fn & 1) == 0 && fn != 0; fn >>= 1) sn >>= 1;
            (fn, sn) = (fn >> 1, sn >> 1);
        }
        return text.ToString();
    }

    /// <summary>Reads a proof, only as <see cref="ToString"/> writes it. Does not throw.</summary>
    public static bool TryRead(string text, [NotNullWhen(true)] out ProofText? proof)
    {
        proof = null;
        var lines = text.Split('\n');
        if (lines.Length is < HeadLines + 1 or > HeadLines + 1 + InclusionProof.HashesMost) return false;
        if (!TryNumber(lines[0], "index ", out var index) || !TryNumber(lines[1], "size ", out var size)) return false;
        if (index >= size) return false;
        var hashes = new List<TreeHash>();
        foreach (var line in lines[HeadLines..^1])
        {
            var blank = line.IndexOf(' ', StringComparison.Ordinal);
            if (!TreeHash.TryParse(line[(blank + 1)..], out var hash)) return false;
            hashes.Add(hash);
        }
        var read = new ProofText(index, size, hashes);
        if (read.ToString() != text) return false;
        proof = read;
        return true;
    }

    private static bool TryNumber(string line, string word, out long number)
    {
        number = 0;
        return line.StartsWith(word, StringComparison.Ordinal)
            && long.TryParse(line[word.Length..], NumberStyles.None, CultureInfo.InvariantCulture, out number);
    }
}
