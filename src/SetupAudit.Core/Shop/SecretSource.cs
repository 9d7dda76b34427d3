namespace SetupAudit.Shop;

/// <summary>Where a secret is read when it is needed; the secret itself is never kept.</summary>
/// <param name="File">Full path of the file that holds it; null for a variable.</param>
/// <param name="Variable">Name of the environment variable that holds it; null for a file.</param>
public sealed record SecretSource(string? File, string? Variable);
