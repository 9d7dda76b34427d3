using SetupAudit.Alerts.Channels;
using SetupAudit.Shop;

namespace SetupAudit.Alerts;

/// <summary>The channels that a configuration asks for, one a receiver.</summary>
public static class AlertChannels
{
    public static IReadOnlyList<IAlertChannel> Of(AlertsConfig? config, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(time);
        var channels = new List<IAlertChannel>();
        if (config?.Mail is { } mail)
            channels.AddRange(mail.To.Distinct(StringComparer.Ordinal).Select(to => new MailChannel(mail, to, time)));
        if (config?.Webhook is { } webhook) channels.Add(new WebhookChannel(webhook, time));
        if (config?.Syslog is { } syslog) channels.Add(new SyslogChannel(syslog, time));
        if (config?.Files is { } files) channels.Add(new FileDropChannel(files, time));
        return channels;
    }
}
