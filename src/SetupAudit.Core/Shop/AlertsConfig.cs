namespace SetupAudit.Shop;

/// <summary>What is sent out, and by which channels; each is null where it is not configured.</summary>
public sealed record AlertsConfig
{
    public Severity Severity { get; init; } = Severity.High;

    /// <summary>Where people reach the page, for the links in messages; without a slash at the end.</summary>
    public required string ReportUrl { get; init; }

    public AlertPacing Pacing { get; init; } = new();

    public MailConfig? Mail { get; init; }

    public WebhookConfig? Webhook { get; init; }

    public SyslogConfig? Syslog { get; init; }

    public FileDropConfig? Files { get; init; }
}
