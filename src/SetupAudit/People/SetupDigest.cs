using System.Security.Cryptography;
using System.Text;
using SetupAudit.Store;

namespace SetupAudit.People;

/// <summary>The digest of all that is derived of a setup: what a reviewer had before them.</summary>
public static class SetupDigest
{
    private static readonly DerivedKind[] Lists =
        [DerivedKind.Change, DerivedKind.Finding, DerivedKind.Measurement, DerivedKind.Cycle];

    /// <summary>
    /// SHA-256 over the bodies that hold now, a line each: the head, then each list by moment and id.
    /// </summary>
    public static async Task<string> OfAsync(StoreReader store, StoredDerived head, CancellationToken token)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Add(hash, head);
        foreach (var kind in Lists)
            await foreach (var row in store.DerivedAsync(new DerivedQuery { Kind = kind, Setup = head.Id }, token))
                Add(hash, row);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static void Add(IncrementalHash hash, StoredDerived row) =>
        hash.AppendData(Encoding.UTF8.GetBytes($"{row.Id} {row.Body}\n"));
}
