namespace SetupAudit.Shop.Configuration;

/// <summary>The key Alerts.Webhook: where signed calls go.</summary>
internal static class WebhookSection
{
    public static ObjectShape Shape { get; } = new("an object with Url",
    [
        new("Url", WebAddress.ForAlerts) { IsRequired = true },
        .. SecretKeys.Of("Secret"),
        new("CertificateFile", Values.Path),
    ], (node, check) => SecretKeys.CheckOne(node, check, "Secret"))
    { Refused = SecretKeys.Refused("Secret", "Secret", "Token", "Key") };

    public static WebhookConfig? Read(ConfigNode? node, Folders folders) => node is null ? null : new WebhookConfig(
        WebAddress.ForAlerts.Read(node["Url"], ""),
        SecretKeys.Read(node, "Secret", folders),
        folders.OrNull(node["CertificateFile"]));
}
