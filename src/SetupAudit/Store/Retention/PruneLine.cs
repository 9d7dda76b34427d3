namespace SetupAudit.Store.Retention;

/// <summary>
/// The line that a machine's evidence is dropped up to. What is derived begins at it from then on: from the state as it
/// was there, with what was recorded before as it stands.
/// </summary>
public sealed record PruneLine
{
    public required string Machine { get; init; }

    /// <summary>What speaks of an earlier moment is in the state, or came too late.</summary>
    public required DateTimeOffset FromUtc { get; init; }

    /// <summary>Rows of earlier scopes stand as they were recorded.</summary>
    public required DateTimeOffset FloorUtc { get; init; }

    /// <summary>Arrivals up to this one, in the order of taking in, are in the state where they are earlier.</summary>
    public required long Arrivals { get; init; }

    /// <summary>How the state is to be understood: units and watched folders, as JSON.</summary>
    public required string Reads { get; init; }

    /// <summary>SHA-256 of the state, which is kept as evidence is.</summary>
    public required string StateSha256 { get; init; }
}
