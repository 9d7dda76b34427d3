namespace SetupAudit.Shop;

/// <summary>
/// What is sent out. The channels are not available yet; their keys are checked and answered by <c>check</c>.
/// </summary>
public sealed record AlertsConfig
{
    public Severity Severity { get; init; } = Severity.High;

    /// <summary>Names of the channels that are configured: Mail, Webhook, Syslog.</summary>
    public IReadOnlyList<string> Channels { get; init; } = [];
}
