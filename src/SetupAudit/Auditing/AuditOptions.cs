using SetupAudit.Alerts;
using SetupAudit.Shop;

namespace SetupAudit.Auditing;

/// <summary>What an audit runs with.</summary>
public sealed record AuditOptions
{
    public required ShopConfig Shop { get; init; }

    /// <summary>SHA-256 of the configuration as it was written, for the record of starts.</summary>
    public required string ConfigurationSha256 { get; init; }

    /// <summary>The configuration as it was written, which the record keeps; empty where it is not at hand.</summary>
    public ReadOnlyMemory<byte> Configuration { get; init; }

    /// <summary>What is derived of a machine holds as long as this is the same; else all is read again.</summary>
    public string BasisOf(string machine) => DerivationBasis.Of(Shop, machine);

    /// <summary>Another version makes all evidence be read again too.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>The command, for the record of starts.</summary>
    public required string Command { get; init; }

    /// <summary>Told how far long work is; null where nobody looks.</summary>
    public IProgress<AuditProgress>? Progress { get; init; }

    /// <summary>Whom to tell what is found; none where the configuration names nobody.</summary>
    internal Func<AlertsConfig?, TimeProvider, IReadOnlyList<IAlertChannel>> Channels { get; init; } =
        AlertChannels.Of;

    internal FoldLimits Limits { get; init; } = new();
}
