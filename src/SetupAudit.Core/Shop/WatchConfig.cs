namespace SetupAudit.Shop;

/// <summary>One watched folder of a machine.</summary>
public sealed record WatchConfig
{
    /// <summary>Place in the machine's Watch list, from 0; ties are broken by it.</summary>
    public required int Index { get; init; }

    /// <summary>As the configuration writes it, with forward slashes.</summary>
    public required string Folder { get; init; }

    public required string FullFolder { get; init; }

    /// <summary>Where the folder lies on a server that speaks SFTP; null where it is a path of this machine.</summary>
    public SftpConfig? Sftp { get; init; }

    /// <summary>Glob over the names below the folder.</summary>
    public required string Files { get; init; }

    public required SourceKind Read { get; init; }

    /// <summary>For a table: our name to the file's heading; for mtconnect: to the key of a cell.</summary>
    public IReadOnlyDictionary<string, string> Columns { get; init; } =
        new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);

    /// <summary>For a print-out: which of the configured PrintOuts.</summary>
    public string? Lines { get; init; }

    /// <summary>For mtconnect, else null.</summary>
    public StreamConfig? Stream { get; init; }

    public TimeSpan Poll { get; init; } = TimeSpan.FromSeconds(2);

    public TimeSpan Settle { get; init; } = TimeSpan.FromSeconds(2);

    public TimeSpan Rehash { get; init; } = TimeSpan.FromMinutes(15);

    /// <summary>How much later the file's time may be than the state it shows.</summary>
    public TimeSpan Lag { get; init; }

    /// <summary>Files that wait to be loaded into a control: they prove no state.</summary>
    public bool IsToLoad { get; init; }

    public TimeFrom Time { get; init; } = TimeFrom.File;

    /// <summary>The regular expression with group <c>time</c>, for a time in the name or the text.</summary>
    public string? TimePattern { get; init; }

    public string? TimeFormat { get; init; }
}
