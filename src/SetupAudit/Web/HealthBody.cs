using System.Buffers;
using System.Text.Json;
using SetupAudit.Shapes;

namespace SetupAudit.Web;

/// <summary>The JSON of <c>/health</c>.</summary>
internal static class HealthBody
{
    public static ReadOnlyMemory<byte> Of(Health health)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer)) Write(json, health);
        return buffer.WrittenMemory;
    }

    private static void Write(Utf8JsonWriter json, Health health)
    {
        json.WriteStartObject();
        json.WriteString("status", Word.Of(health.Status));
        json.WriteString("version", health.Version);
        json.WriteString("started", Word.Of(health.StartedUtc));
        json.WriteString("fault", health.Fault);
        json.WriteStartArray("machines");
        foreach (var machine in health.Machines) Write(json, machine);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, MachineHealth machine)
    {
        json.WriteStartObject();
        json.WriteString("machine", machine.Machine);
        json.WriteString("horizon", machine.HorizonUtc is { } horizon ? Word.Of(horizon) : null);
        json.WriteStartArray("sources");
        foreach (var source in machine.Sources)
        {
            json.WriteStartObject();
            json.WriteString("source", source.Source);
            json.WriteString("fault", source.Fault);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }
}
