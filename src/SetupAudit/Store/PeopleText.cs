using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace SetupAudit.Store;

/// <summary>What people did as JSON on one line, as it is handed over, kept and said in the record.</summary>
public static class PeopleText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        IgnoreReadOnlyProperties = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
        MaxDepth = 8,
    };

    public static string Of<T>(T what) => JsonSerializer.Serialize(what, Options);

    /// <summary>Throws <see cref="JsonException"/> for a text that is none.</summary>
    public static T? Read<T>(string text) => JsonSerializer.Deserialize<T>(text, Options);
}
