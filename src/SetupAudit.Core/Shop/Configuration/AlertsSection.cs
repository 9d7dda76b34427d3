namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts: what is sent, and by which channels.</summary>
internal static class AlertsSection
{
    private static readonly TypedShape<Severity> Severities = Values.Words(
        ("note", Severity.Note), ("low", Severity.Low), ("high", Severity.High), ("stop", Severity.Stop));

    private static readonly AlertPacing Usual = new();
    private static readonly TypedShape<int> Most = Values.Whole(1, 10_000);

    public static ObjectShape Shape { get; } = new("an object such as { \"Severity\": \"high\" }",
    [
        new("Severity", Severities, "high"),
        new("ReportUrl", WebAddress.ForPeople, "Url of Web"),
        new("Group", Values.Span, "00:00:01"),
        new("Remind", Values.Span, "04:00:00"),
        new("Most", Most, "10"),
        new("Within", Values.SpanAbove0, "00:10:00"),
        new("GiveUp", Values.SpanAbove0, "72:00:00"),
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
            Pacing = Pacing(node),
            Mail = MailSection.Read(node["Mail"], folders),
            Webhook = WebhookSection.Read(node["Webhook"], folders),
            Syslog = SyslogSection.Read(node["Syslog"], folders),
            Files = FileDropSection.Read(node["Files"], folders),
        };

    // No time at all is never: reminders can be switched off.
    private static AlertPacing Pacing(ConfigNode node)
    {
        var remind = Values.Span.Read(node["Remind"], Usual.Remind ?? TimeSpan.Zero);
        return new AlertPacing
        {
            Group = Values.Span.Read(node["Group"], Usual.Group),
            Remind = remind > TimeSpan.Zero ? remind : null,
            Most = Most.Read(node["Most"], Usual.Most),
            Within = Values.SpanAbove0.Read(node["Within"], Usual.Within),
            GiveUp = Values.SpanAbove0.Read(node["GiveUp"], Usual.GiveUp),
        };
    }
}
