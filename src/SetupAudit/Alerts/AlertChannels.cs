using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>The channels that a configuration asks for, one a receiver.</summary>
public static class AlertChannels
{
    public static IReadOnlyList<IAlertChannel> Of(AlertsConfig? config, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(time);
        return [];
    }
}
