using System.Text.Json;
using System.Text.Json.Serialization;
using SetupAudit.Datums;

namespace SetupAudit.Auditing;

/// <summary>
/// Readings as JSON and back, to be kept as scratch: nobody is shown it, and it is read only by who wrote it.
/// </summary>
internal static class ReadingText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        IgnoreReadOnlyProperties = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new KeyConverter(), new RegisterConverter() },
    };

    public static byte[] Bytes<T>(T reading) => JsonSerializer.SerializeToUtf8Bytes(reading, Options);

    public static string Text<T>(T reading) => JsonSerializer.Serialize(reading, Options);

    public static T Read<T>(ReadOnlySpan<byte> bytes) =>
        JsonSerializer.Deserialize<T>(bytes, Options) ?? throw new JsonException("a reading that is null");

    public static T Read<T>(string text) =>
        JsonSerializer.Deserialize<T>(text, Options) ?? throw new JsonException("a reading that is null");

    private sealed class KeyConverter : JsonConverter<OffsetKey>
    {
        public override OffsetKey Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            OffsetKey.FromCode(reader.GetInt32());

        public override void Write(Utf8JsonWriter writer, OffsetKey value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.Code);
    }

    private sealed class RegisterConverter : JsonConverter<Register>
    {
        public override Register Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Register.TryParse(reader.GetString(), out var register)
                ? register
                : throw new JsonException("no register is called so");

        public override void Write(Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }
}
