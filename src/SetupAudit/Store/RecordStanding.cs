namespace SetupAudit.Store;

/// <summary>How the record of an open store stands.</summary>
/// <param name="Origin">Its name.</param>
/// <param name="Size">How many entries it has.</param>
public sealed record RecordStanding(string Origin, long Size)
{
    /// <summary>It did not exist before the store was opened.</summary>
    public bool IsNew { get; init; }

    /// <summary>Its newest checkpoint stands in the file beside the database.</summary>
    public required bool IsAnchored { get; init; }

    /// <summary>A folder off this computer is configured.</summary>
    public required bool HasOffBox { get; init; }

    /// <summary>Its newest checkpoint stands in that folder.</summary>
    public required bool IsOffBox { get; init; }

    /// <summary>Why the folder cannot be written to; null where it can.</summary>
    public string? OffBoxFault { get; init; }
}
