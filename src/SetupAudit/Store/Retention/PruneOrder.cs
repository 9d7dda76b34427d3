namespace SetupAudit.Store.Retention;

/// <summary>Which evidence is to be dropped, who decided it and why.</summary>
public sealed record PruneOrder
{
    public required string Id { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>As it was asked for; no line lies later.</summary>
    public required DateTimeOffset BeforeUtc { get; init; }

    public required string Reason { get; init; }

    /// <summary>The account of the operating system that did it.</summary>
    public required string Account { get; init; }

    public required IReadOnlyList<PruneSignature> Signatures { get; init; }

    /// <summary>The names and passwords given for it.</summary>
    public required IReadOnlyList<StoredSignIn> SignIns { get; init; }

    /// <summary>New lines, each with the bytes of its state.</summary>
    public required IReadOnlyList<(PruneLine Line, ReadOnlyMemory<byte> State)> Lines { get; init; }

    /// <summary>The bytes that go, by SHA-256.</summary>
    public required Sha256Set Sha256s { get; init; }

    public required long SizeBytes { get; init; }
}
