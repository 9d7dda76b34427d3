using System.Buffers;
using System.Text.Json;
using SetupAudit.Shapes;

namespace SetupAudit.Web;

/// <summary>The JSON of <c>/health</c>. Fields are added, never renamed.</summary>
internal static class HealthBody
{
    public static ReadOnlyMemory<byte> Of(Health health) => Body(json => Write(json, health));

    /// <summary>Of <c>/health/live</c> and <c>/health/ready</c>: one word.</summary>
    public static ReadOnlyMemory<byte> Of(HealthStatus status) => Body(json =>
    {
        json.WriteStartObject();
        json.WriteString("status", Word.Of(status));
        json.WriteEndObject();
    });

    private static ReadOnlyMemory<byte> Body(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer)) write(json);
        return buffer.WrittenMemory;
    }

    private static void Write(Utf8JsonWriter json, Health health)
    {
        json.WriteStartObject();
        json.WriteString("status", Word.Of(health.Status));
        json.WriteString("version", health.Version);
        json.WriteString("started", Word.Of(health.StartedUtc));
        json.WriteString("fault", health.Fault);
        json.WriteNumber("loopSeconds", Seconds(health.LoopAge));
        json.WriteStartArray("machines");
        foreach (var machine in health.Machines) Write(json, machine);
        json.WriteEndArray();
        if (health.Configuration is { } configuration) Write(json, configuration);
        json.WriteStartArray("parts");
        foreach (var part in health.Parts) Write(json, part);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, MachineHealth machine)
    {
        json.WriteStartObject();
        json.WriteString("machine", machine.Machine);
        json.WriteString("horizon", machine.HorizonUtc is { } horizon ? Word.Of(horizon) : null);
        json.WriteNumber("backlog", machine.Backlog);
        json.WriteStartArray("sources");
        foreach (var source in machine.Sources) Write(json, source);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, SourceHealth source)
    {
        json.WriteStartObject();
        json.WriteString("source", source.Source);
        json.WriteString("fault", source.Fault);
        json.WriteString("clean", source.CleanUtc is { } clean ? Word.Of(clean) : null);
        json.WriteNumber("blockedSeconds", Seconds(source.Blocked));
        json.WriteNumber("files", source.Files);
        json.WriteNumber("pending", source.Pending);
        json.WriteNumber("tornReads", source.TornReads);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, ConfigurationHealth configuration)
    {
        json.WriteStartObject("configuration");
        json.WriteString("sha256", configuration.Sha256);
        json.WriteString("since", Word.Of(configuration.SinceUtc));
        json.WriteString("refused", configuration.RefusedUtc is { } refused ? Word.Of(refused) : null);
        json.WriteStartArray("faults");
        foreach (var fault in configuration.Faults) json.WriteStringValue(fault);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, PartHealth part)
    {
        json.WriteStartObject();
        json.WriteString("part", part.Part);
        json.WriteString("status", Word.Of(part.Status));
        json.WriteString("fault", part.Fault);
        foreach (var (name, value) in part.Figures) json.WriteNumber(name, value);
        json.WriteEndObject();
    }

    private static double Seconds(TimeSpan span) => Math.Round(span.TotalSeconds, 3);
}
