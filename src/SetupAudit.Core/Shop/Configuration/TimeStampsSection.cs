namespace SetupAudit.Shop.Configuration;

/// <summary>The key Store.TimeStamps: an authority that says when a checkpoint was there.</summary>
internal static class TimeStampsSection
{
    public static ObjectShape Shape { get; } = new("an object with Url and CertificateFile",
    [
        new("Url", WebAddress.OfAuthority) { IsRequired = true },
        new("CertificateFile", Values.Path) { IsRequired = true },
        new("Every", Values.SpanAbove0, "24:00:00"),
        new("Policy", Values.TextAs("an object identifier such as 1.2.3.4")),
    ]);

    public static TimeStampConfig? Read(ConfigNode? node, Folders folders)
    {
        if (node is null) return null;
        var read = new TimeStampConfig(
            WebAddress.OfAuthority.Read(node["Url"], ""), folders.OrNull(node["CertificateFile"]) ?? "");
        return read with
        {
            Every = Values.SpanAbove0.Read(node["Every"], read.Every),
            Policy = Values.Text.TextOrNull(node["Policy"]),
        };
    }
}
