namespace SetupAudit.Store;

/// <summary>
/// A start of the program on this store: what it was told to do, its version, and the digest of its configuration.
/// </summary>
public sealed record StartRecord(
    DateTimeOffset AtUtc, string Command, string ProgramVersion, string ConfigurationSha256)
{
    /// <summary>The configuration as it was written, kept with the evidence; empty where it is not known.</summary>
    public ReadOnlyMemory<byte> Configuration { get; init; }
}
