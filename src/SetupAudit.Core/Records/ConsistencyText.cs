using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Numerics;
using System.Text;

namespace SetupAudit.Records;

/// <summary>
/// A consistency proof as a person can follow it: two hashes are carried from "start" on, one for the older tree and
/// one for the newer; a line "both" puts its hash before each of them, a line "newer" behind the newer one alone. They
/// end at the two roots.
/// </summary>
public sealed record ConsistencyText(long Older, TreeHash OlderRoot, long Newer, IReadOnlyList<TreeHash> Hashes)
{
    private const int HeadLines = 3;

    public override string ToString()
    {
        // An older tree that is full is itself the first node of the way (RFC 9162, section 2.1.4.2).
        var isFull = BitOperations.IsPow2(Older) || Older == Newer;
        var (start, rest) = isFull || Hashes.Count == 0 ? (OlderRoot, Hashes) : (Hashes[0], [.. Hashes.Skip(1)]);
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"from {Older}\nto {Newer}\nstart {start}\n");
        var (fn, sn) = (Older - 1, Newer - 1);
        for (; (fn & 1) == 1; fn >>= 1) sn >>= 1;
        foreach (var hash in rest)
        {
            var isBoth = (fn & 1) == 1 || fn == sn;
            text.Append(isBoth ? "both " : "newer ").Append(hash).Append('\n');
            if (isBoth)
                for (; (fn & 1) == 0 && fn != 0; fn >>= 1) sn >>= 1;
            (fn, sn) = (fn >> 1, sn >> 1);
        }
        return text.ToString();
    }

    /// <summary>
    /// Reads a proof from a tree with this root, only as <see cref="ToString"/> writes it. Does not throw.
    /// </summary>
    public static bool TryRead(string text, TreeHash olderRoot, [NotNullWhen(true)] out ConsistencyText? proof)
    {
        proof = null;
        var lines = text.Split('\n');
        if (lines.Length is < HeadLines + 1 or > HeadLines + 1 + ConsistencyProof.HashesMost) return false;
        if (!TryNumber(lines[0], "from ", out var older) || !TryNumber(lines[1], "to ", out var newer)) return false;
        if (older < 1 || older > newer) return false;
        var hashes = new List<TreeHash>();
        foreach (var line in lines[(HeadLines - 1)..^1])
        {
            var blank = line.IndexOf(' ', StringComparison.Ordinal);
            if (!TreeHash.TryParse(line[(blank + 1)..], out var hash)) return false;
            hashes.Add(hash);
        }
        if (BitOperations.IsPow2(older) || older == newer) hashes.RemoveAt(0);
        var read = new ConsistencyText(older, olderRoot, newer, hashes);
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
