namespace SetupAudit.Shares;

/// <summary>What is known of one file: replaced as a whole when the store has confirmed it.</summary>
internal sealed record KnownFile
{
    public required string Name { get; init; }

    public required EntryKind Kind { get; init; }

    /// <summary>As the listing gave it: another one means "look again".</summary>
    public required FileStamp Listed { get; init; }

    /// <summary>As the open file gave it when its bytes were taken; null where they never were.</summary>
    public FileStamp? Taken { get; init; }

    /// <summary>Of the whole document that was taken; unused for a print-out.</summary>
    public Digest Content { get; init; }

    /// <summary>When its content was last compared, or when it was last tried in vain.</summary>
    public DateTime ReadUtc { get; init; }

    public string? Refused { get; init; }

    /// <summary>Since when a whole listing no longer shows it.</summary>
    public DateTime? MissingUtc { get; init; }

    /// <summary>How many whole listings on one mount have not shown it since. Not kept.</summary>
    public int Misses { get; set; }

    /// <summary>For a print-out: how far it was taken.</summary>
    public Growth? Growth { get; init; }

    /// <summary>When to read and compare it again. Not kept: worked out when it comes to be known.</summary>
    public DateTime DueUtc { get; set; }

    /// <summary>Number of the last scan whose listing showed it. Not kept.</summary>
    public int SeenInScan { get; set; }

    /// <summary>Where it stood in the last listing, counted from 0. Not kept.</summary>
    public int Place { get; set; }
}
