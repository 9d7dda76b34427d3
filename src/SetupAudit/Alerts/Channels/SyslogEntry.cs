namespace SetupAudit.Alerts.Channels;

/// <summary>The parts of one syslog message (RFC 5424 section 6).</summary>
internal sealed record SyslogEntry
{
    public required int Facility { get; init; }

    public required int Severity { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public required string Host { get; init; }

    public required string App { get; init; }

    /// <summary>Null for none, as the two below.</summary>
    public string? ProcessId { get; init; }

    public string? Kind { get; init; }

    public string? Text { get; init; }

    public IReadOnlyList<SyslogElement> Elements { get; init; } = [];
}
