namespace SetupAudit.Shop;

/// <summary>
/// How a folder on a server that speaks SFTP is reached. It names files that hold secrets, no secret.
/// </summary>
/// <param name="Path">The folder on the server, with a slash in front.</param>
/// <param name="HostKey">The fingerprint that the server's key must have: SHA256: and 43 characters.</param>
public sealed record SftpConfig(string Host, int Port, string User, string Path, string HostKey)
{
    /// <summary>The folder as it is written in the configuration.</summary>
    public required string FullFolder { get; init; }

    /// <summary>A private key without a passphrase; null where a password is used.</summary>
    public string? KeyFile { get; init; }

    /// <summary>A file whose first line is the password; null where a key is used.</summary>
    public string? PasswordFile { get; init; }
}
