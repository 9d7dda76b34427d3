namespace SetupAudit.Store.Verifying;

/// <summary>The time stamps of a record in one place, and the newest of them that holds.</summary>
/// <param name="Path">The folder; in a bundle, the file.</param>
/// <param name="IsOffBox">It is the copy off this computer.</param>
public sealed record StampState(string Path, bool IsOffBox)
{
    /// <summary>How many hold.</summary>
    public required int Count { get; init; }

    /// <summary>How many entries the newest is over.</summary>
    public required long Size { get; init; }

    /// <summary>When that was, by the authority's clock.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>Whom the authority's certificate names.</summary>
    public required string By { get; init; }

    /// <summary>
    /// Whether that certificate leads to one that was given as trusted; else anybody may have made the stamp.
    /// </summary>
    public required bool IsTrusted { get; init; }
}
