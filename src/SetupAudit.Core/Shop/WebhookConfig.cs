namespace SetupAudit.Shop;

/// <summary>How alerts go out by a signed call.</summary>
/// <param name="Url">https, or http to this machine itself.</param>
/// <param name="Secret">Where the signing secret is; null for calls without a signature.</param>
/// <param name="CertificateFile">Full path of certificates that are trusted besides the computer's own.</param>
public sealed record WebhookConfig(string Url, SecretSource? Secret, string? CertificateFile);
