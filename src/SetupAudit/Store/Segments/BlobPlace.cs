namespace SetupAudit.Store.Segments;

/// <summary>Where the bytes of one blob lie: the header begins at <see cref="Position"/>.</summary>
/// <param name="SizeBytes">The bytes as they were found.</param>
/// <param name="StoredBytes">Header and compressed bytes together.</param>
internal sealed record BlobPlace(string Sha256, int Segment, long Position, long StoredBytes, long SizeBytes)
{
    public long End => Position + StoredBytes;
}
