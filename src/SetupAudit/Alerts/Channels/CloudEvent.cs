using System.Buffers;
using System.Text.Json;
using SetupAudit.Alerts.Letters;
using SetupAudit.Shapes;

namespace SetupAudit.Alerts.Channels;

/// <summary>A message as a CloudEvents 1.0 event in structured JSON.</summary>
internal static class CloudEvent
{
    public const string MediaType = "application/cloudevents+json";

    /// <summary>
    /// The id of the event and of the call. Standard Webhooks allows no point in it, and headers allow few signs.
    /// </summary>
    public static string IdOf(AlertMessage message) => "alert_" + StableId.Of(message.Id);

    public static byte[] Of(AlertMessage message, DateTimeOffset nowUtc)
    {
        var bytes = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            json.WriteString("specversion", "1.0");
            json.WriteString("id", IdOf(message));
            json.WriteString("source", $"/setupaudit/{Uri.EscapeDataString(message.Shop)}");
            json.WriteString("type", $"setupaudit.alert.{Word.Of(message.Kind)}");
            json.WriteString("subject", message.Setup ?? message.Machine);
            json.WriteString("time", Word.Of(message.QueuedUtc));
            json.WriteString("datacontenttype", "application/json");
            json.WritePropertyName("data");
            AlertJson.Write(json, message, nowUtc);
            json.WriteEndObject();
        }
        return bytes.WrittenSpan.ToArray();
    }
}
