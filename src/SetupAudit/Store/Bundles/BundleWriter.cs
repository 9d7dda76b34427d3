using System.IO.Compression;
using System.Text;
using SetupAudit.Records;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Bundles;

/// <summary>Writes a bundle: the same parts always give the same bytes.</summary>
internal static class BundleWriter
{
    // The oldest that the format can say: a bundle's own moment stands in its list.
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static async Task WriteAsync(Stream target, IReadOnlyDictionary<string, byte[]> files,
        IReadOnlyList<BlobPlace> evidence, EvidenceFolder folder, CancellationToken token)
    {
        using var zip = new ZipArchive(target, ZipArchiveMode.Create, leaveOpen: true, Encoding.UTF8);
        foreach (var (name, bytes) in files.OrderBy(file => file.Key, StringComparer.Ordinal))
        {
            await using var entry = Open(zip, name);
            await entry.WriteAsync(bytes, token);
        }
        foreach (var place in evidence)
        {
            await using var bytes = folder.Open(place);
            await using var entry = Open(zip, BundleNames.Evidence(place.Sha256));
            await bytes.CopyToAsync(entry, token);
        }
    }

    /// <summary>The proof of each entry, as files.</summary>
    public static IEnumerable<KeyValuePair<string, byte[]>> Proofs(IEnumerable<long> entries, SubtreeRoots tree) =>
        entries.Select(number => new KeyValuePair<string, byte[]>(
            BundleNames.Proof(number),
            Encoding.UTF8.GetBytes(new ProofText(
                number, tree.Size, InclusionProof.Make(number, tree.Size, tree.Of)).ToString())));

    /// <summary>For each earlier checkpoint the proof that the tree begins with its own, as files.</summary>
    public static IEnumerable<KeyValuePair<string, byte[]>> Consistency(
        IEnumerable<StoredCheckpoint> earlier, SubtreeRoots tree) =>
        earlier.Select(checkpoint => new KeyValuePair<string, byte[]>(
            BundleNames.Consistency(checkpoint.Size),
            Encoding.UTF8.GetBytes(new ConsistencyText(checkpoint.Size, TreeHash.From(checkpoint.Root), tree.Size,
                ConsistencyProof.Make(checkpoint.Size, tree.Size, tree.Of)).ToString())));

    private static Stream Open(ZipArchive zip, string name)
    {
        var entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = NoTime;
        return entry.Open();
    }
}
