namespace SetupAudit.Shop;

/// <summary>How alerts go out by syslog.</summary>
public sealed record SyslogConfig
{
    /// <summary>The number that RFC 5612 keeps for examples; it belongs to nobody.</summary>
    public const int ExampleNumber = 32473;

    public required string Host { get; init; }

    public required int Port { get; init; }

    public SyslogProtocol Protocol { get; init; } = SyslogProtocol.Tcp;

    /// <summary>Number of the facility, 0 to 23.</summary>
    public int Facility { get; init; } = 16;

    /// <summary>The enterprise number behind the name of the structured data.</summary>
    public int EnterpriseNumber { get; init; } = ExampleNumber;

    /// <summary>Full path of certificates that are trusted besides the computer's own; null for none.</summary>
    public string? CertificateFile { get; init; }
}
