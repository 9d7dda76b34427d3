namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts: what is sent, and by which channels.</summary>
internal static class AlertsSection
{
    private static readonly TypedShape<Severity> Severities = Values.Words(
        ("note", Severity.Note), ("low", Severity.Low), ("high", Severity.High), ("stop", Severity.Stop));

    public static ObjectShape Shape { get; } = new("an object such as { \"Severity\": \"high\" }",
    [
        new("Severity", Severities, "high"),
        new("ReportUrl", WebAddress.ForPeople, "Url of Web"),
        new("Mail", MailSection.Shape),
        new("Webhook", WebhookSection.Shape),
        new("Syslog", SyslogSection.Shape),
        new("Files", FileDropSection.Shape),
    ]);

    /// <param name="webUrl">Where the page listens.</param>
    public static AlertsConfig? Read(ConfigNode? node, Folders folders, string webUrl) =>
        node is null ? null : new AlertsConfig
        {
            Severity = Severities.Read(node["Severity"], Severity.High),
            ReportUrl = WebAddress.ForPeople.Read(node["ReportUrl"], webUrl).TrimEnd('/'),
            Mail = MailSection.Read(node["Mail"], folders),
            Webhook = WebhookSection.Read(node["Webhook"], folders),
            Syslog = SyslogSection.Read(node["Syslog"], folders),
            Files = FileDropSection.Read(node["Files"], folders),
        };
}
