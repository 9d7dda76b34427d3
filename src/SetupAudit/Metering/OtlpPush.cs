using OpenTelemetry;
using OpenTelemetry.Exporter;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;

namespace SetupAudit.Metering;

/// <summary>Sends the figures to a collector by OTLP over HTTP, once a minute and at the end.</summary>
public static class OtlpPush
{
    private const string MetricsPath = "/v1/metrics";

    /// <summary>Until disposed; a collector that does not answer harms nothing but its own figures.</summary>
    /// <param name="url">Of the collector; without a path the usual one is added.</param>
    public static IDisposable To(string url, string version)
    {
        var address = new Uri(url);
        if (address.AbsolutePath == "/") address = new Uri(address, MetricsPath);
        return Sdk.CreateMeterProviderBuilder()
            .ConfigureResource(resource => resource.Clear().AddService("setupaudit", serviceVersion: version))
            .AddMeter(Meters.Name)
            .AddOtlpExporter(exporter =>
            {
                exporter.Endpoint = address;
                exporter.Protocol = OtlpExportProtocol.HttpProtobuf;
            })
            .Build();
    }
}
