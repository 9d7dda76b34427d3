namespace SetupAudit.Shop;

/// <summary>Where the record's checkpoints are time-stamped (RFC 3161).</summary>
/// <param name="Url">The authority's address.</param>
/// <param name="CertificateFile">Full path of the certificates in PEM by which the authority is trusted.</param>
public sealed record TimeStampConfig(string Url, string CertificateFile)
{
    /// <summary>How long after a stamp the next one is asked for.</summary>
    public TimeSpan Every { get; init; } = TimeSpan.FromHours(24);

    /// <summary>The policy that a stamp must be given under; null for the authority's own.</summary>
    public string? Policy { get; init; }
}
