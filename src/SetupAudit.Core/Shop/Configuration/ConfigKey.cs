namespace SetupAudit.Shop.Configuration;

/// <summary>A key that an object may have.</summary>
/// <param name="Default">What holds without it, as docs/configuration.md says; empty for nothing.</param>
internal sealed record ConfigKey(string Name, ConfigShape Shape, string Default = "")
{
    public bool IsRequired { get; init; }
}
