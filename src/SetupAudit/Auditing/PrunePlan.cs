using SetupAudit.Store.Retention;

namespace SetupAudit.Auditing;

/// <summary>What would be dropped before a moment, and what each machine would go on from.</summary>
public sealed record PrunePlan
{
    public required DateTimeOffset BeforeUtc { get; init; }

    public required IReadOnlyList<PruneShare> Machines { get; init; }

    /// <summary>Lines that are new, each with the bytes of its state.</summary>
    public required IReadOnlyList<(PruneLine Line, ReadOnlyMemory<byte> State)> Lines { get; init; }

    /// <summary>The bytes that go, by SHA-256.</summary>
    public required Sha256Set Sha256s { get; init; }

    public required long SizeBytes { get; init; }

    /// <summary>Stored bytes that stay and lie among them: so much room is needed until all is done.</summary>
    public required long MovedBytes { get; init; }
}
