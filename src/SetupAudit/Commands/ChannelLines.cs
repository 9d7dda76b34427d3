using SetupAudit.Alerts;
using SetupAudit.Reports;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Commands;

/// <summary>
/// What <c>check</c> says of the channels: which would be used, and what they need that is not there.
/// </summary>
internal static class ChannelLines
{
    /// <summary>A line for each channel; nothing is sent.</summary>
    public static IEnumerable<string> Of(ShopConfig shop, TimeProvider time)
    {
        if (shop.Alerts is not { } alerts) yield break;
        var channels = AlertChannels.Of(alerts, time);
        if (channels.Count == 0) yield return "Alerts go nowhere: Alerts names no channel.";
        foreach (var channel in channels)
            yield return VisibleText.Of(
                $"Findings of severity {Word.Of(alerts.Severity)} and up go by {channel.Name} to {channel.To}.");
        if (alerts.Webhook is { Secret: null })
            yield return "Calls of the webhook are not signed: SecretFile is not given.";
    }

    /// <summary>What is missing now and may be there when it is needed, so that it is no fault.</summary>
    public static IEnumerable<string> Missing(AlertsConfig? alerts)
    {
        var needed = new (string Key, string? File, string? Variable)[]
        {
            ("Alerts.Mail.Password", alerts?.Mail?.Password?.File, alerts?.Mail?.Password?.Variable),
            ("Alerts.Mail.Certificate", alerts?.Mail?.CertificateFile, null),
            ("Alerts.Webhook.Secret", alerts?.Webhook?.Secret?.File, alerts?.Webhook?.Secret?.Variable),
            ("Alerts.Webhook.Certificate", alerts?.Webhook?.CertificateFile, null),
            ("Alerts.Syslog.Certificate", alerts?.Syslog?.CertificateFile, null),
        };
        foreach (var (key, file, variable) in needed)
        {
            if (file is not null && !File.Exists(file))
                yield return VisibleText.Of($"{key}File: {file} is not there; nothing is sent until it is.");
            if (variable is not null && Environment.GetEnvironmentVariable(variable) is null)
                yield return VisibleText.Of($"{key}Variable: {variable} is not set here; nothing is sent until it is.");
        }
    }
}
