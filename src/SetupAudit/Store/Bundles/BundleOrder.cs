using SetupAudit.Shop;

namespace SetupAudit.Store.Bundles;

/// <summary>Which bundle to make, and what a person reads in it.</summary>
public sealed record BundleOrder
{
    public required StoreConfig Store { get; init; }

    public required RecordOptions Record { get; init; }

    public required string Setup { get; init; }

    public required string Program { get; init; }

    /// <summary>Pages for people, by name: the report, the setup as JSON, how to check.</summary>
    public required IReadOnlyDictionary<string, byte[]> Pages { get; init; }

    /// <summary>Called for what could not be taken along, in sentences.</summary>
    public required Action<string> Tell { get; init; }
}
