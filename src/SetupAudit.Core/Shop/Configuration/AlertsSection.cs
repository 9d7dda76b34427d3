namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts: what is sent, and by which channels.</summary>
internal static class AlertsSection
{
    private const string SecretSentence = "is a secret and not written here; put it into a file and give its path as ";

    private static readonly TypedShape<int> Port = Values.Whole(1, 65535);

    private static readonly TypedShape<Severity> Severities = Values.Words(
        ("note", Severity.Note), ("low", Severity.Low), ("high", Severity.High), ("stop", Severity.Stop));

    private static readonly ObjectShape Mail = new("an object with Host, From and To",
    [
        new("Host", Values.Text) { IsRequired = true },
        new("Port", Port, "587"),
        new("From", Values.Text) { IsRequired = true },
        new("To", new ListShape("a list of one or more addresses", Values.Text, 1)) { IsRequired = true },
        new("User", Values.Text),
        new("PasswordFile", Values.Path),
    ])
    { Refused = Secret("PasswordFile", "Password") };

    private static readonly ObjectShape Webhook = new("an object with Url",
    [
        new("Url", WebAddress.ForAlerts) { IsRequired = true },
        new("SecretFile", Values.Path),
    ])
    { Refused = Secret("SecretFile", "Secret", "Token", "Key") };

    private static readonly ObjectShape Syslog = new("an object with Host",
    [
        new("Host", Values.Text) { IsRequired = true },
        new("Port", Port, "6514"),
        new("Protocol", Values.Words("tcp", "udp", "tls"), "tcp"),
    ]);

    public static ObjectShape Shape { get; } = new("an object such as { \"Severity\": \"high\" }",
    [
        new("Severity", Severities, "high"),
        new("Mail", Mail),
        new("Webhook", Webhook),
        new("Syslog", Syslog),
    ]);

    /// <summary>The channels there are.</summary>
    public static IReadOnlyList<string> Channels { get; } = ["Mail", "Webhook", "Syslog"];

    public static AlertsConfig? Read(ConfigNode? node) => node is null ? null : new AlertsConfig
    {
        Severity = Severities.Read(node["Severity"], Severity.High),
        Channels = [.. Channels.Where(channel => node[channel] is not null)],
    };

    private static Dictionary<string, string> Secret(string fileKey, params string[] keys) =>
        keys.ToDictionary(key => key, _ => SecretSentence + fileKey, StringComparer.OrdinalIgnoreCase);
}
