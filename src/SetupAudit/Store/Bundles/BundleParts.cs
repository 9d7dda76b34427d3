using SetupAudit.Records;
using SetupAudit.Store.Segments;

namespace SetupAudit.Store.Bundles;

/// <summary>What a record holds about one setup.</summary>
internal sealed record BundleParts
{
    public required string Origin { get; init; }

    public required VerifierKey Key { get; init; }

    /// <summary>Entries that concern the setup, with those that name the keys, by number.</summary>
    public required IReadOnlyList<StoredEntry> Entries { get; init; }

    /// <summary>
    /// Signed checkpoints by how many entries they cover: the first over all that was known of the setup, and the first
    /// over each change of keys.
    /// </summary>
    public required IReadOnlyList<StoredCheckpoint> Earlier { get; init; }

    /// <summary>
    /// A time stamp over one of those checkpoints: the oldest that is over all that was known of the setup, or where
    /// there is none yet the newest that is over some of it.
    /// </summary>
    public required (long Size, byte[] Answer)? Stamp { get; init; }

    /// <summary>The bytes whose SHA-256 an entry seals, by its number.</summary>
    public required IReadOnlyList<(long Entry, byte[] Bytes)> Rows { get; init; }

    /// <summary>The bytes that were dropped, by SHA-256, in their order.</summary>
    public required IReadOnlyList<string> Dropped { get; init; }

    /// <summary>Where the evidence lies, in the order of its SHA-256.</summary>
    public required IReadOnlyList<BlobPlace> Evidence { get; init; }
}
