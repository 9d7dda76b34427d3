namespace SetupAudit.Shares;

/// <summary>What one transaction takes in: files found, and the positions that move with them.</summary>
public sealed record ScanBatch
{
    public required ShareSource Source { get; init; }

    /// <summary>Oldest first, by the time on the share and then by name. May be empty.</summary>
    public required IReadOnlyList<FoundFile> Found { get; init; }

    /// <summary>To be written over what is kept under the same name, in the same transaction as the arrivals.</summary>
    public required IReadOnlyList<Position> Positions { get; init; }

    /// <summary>Names whose position is no longer wanted.</summary>
    public required IReadOnlyList<string> Gone { get; init; }
}
