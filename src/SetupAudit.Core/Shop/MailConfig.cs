namespace SetupAudit.Shop;

/// <summary>How alerts go out by mail.</summary>
public sealed record MailConfig
{
    public required string Host { get; init; }

    public required int Port { get; init; }

    public required string From { get; init; }

    public required IReadOnlyList<string> To { get; init; }

    public MailSecurity Security { get; init; } = MailSecurity.StartTls;

    /// <summary>Null where it is the address of From, or the server asks for none.</summary>
    public string? User { get; init; }

    /// <summary>Where the password is; null where the server asks for none.</summary>
    public SecretSource? Password { get; init; }

    /// <summary>Full path of certificates that are trusted besides the computer's own; null for none.</summary>
    public string? CertificateFile { get; init; }
}
