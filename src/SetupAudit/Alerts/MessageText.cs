using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace SetupAudit.Alerts;

/// <summary>A message as it is kept until it has arrived, as JSON.</summary>
internal static class MessageText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    public static string Of(AlertMessage message) => JsonSerializer.Serialize(message, Options);

    /// <summary>Throws <see cref="JsonException"/> for a text that is none; only we wrote it.</summary>
    public static AlertMessage Read(string text) => JsonSerializer.Deserialize<AlertMessage>(text, Options)
        ?? throw new JsonException("a message that is nothing");
}
