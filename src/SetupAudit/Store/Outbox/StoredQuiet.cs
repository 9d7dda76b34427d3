namespace SetupAudit.Store.Outbox;

/// <summary>A time for which a person asked that nothing be sent of a machine, or its end before time.</summary>
public sealed record StoredQuiet
{
    public required string Id { get; init; }

    /// <summary>When it was asked for, from which on it holds.</summary>
    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>A machine, or * for all.</summary>
    public required string Machine { get; init; }

    public required DateTimeOffset UntilUtc { get; init; }

    public required string By { get; init; }

    public required string Reason { get; init; }

    /// <summary>The quiet time that this one ends; null for a quiet time itself.</summary>
    public string? Cancels { get; init; }
}
