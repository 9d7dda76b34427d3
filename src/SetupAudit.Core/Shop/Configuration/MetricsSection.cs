namespace SetupAudit.Shop.Configuration;

/// <summary>The key Metrics: where figures of the service itself are sent.</summary>
internal static class MetricsSection
{
    public static ObjectShape Shape { get; } = new("an object with Otlp",
    [
        new("Otlp", WebAddress.OfCollector) { IsRequired = true },
    ]);

    public static string? Otlp(ConfigNode? node) =>
        WebAddress.OfCollector.TryRead(node?["Otlp"], out var url) ? url : null;
}
