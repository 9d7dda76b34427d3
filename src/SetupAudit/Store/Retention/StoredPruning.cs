using System.Globalization;

namespace SetupAudit.Store.Retention;

/// <summary>That evidence was dropped, as it stands in the record.</summary>
public sealed record StoredPruning
{
    public required string Id { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public required DateTimeOffset BeforeUtc { get; init; }

    public required long Files { get; init; }

    public required long SizeBytes { get; init; }

    public required string Reason { get; init; }

    public required string Account { get; init; }

    public required IReadOnlyList<PruneSignature> Signatures { get; init; }

    /// <summary>Who decided it, as names.</summary>
    public string By => string.Join(" and ", Signatures.Select(one => one.Name));

    /// <summary>When, by whom and why, for a sentence.</summary>
    public string Says =>
        $"dropped on {AtUtc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} by {By} ({Reason})";
}
