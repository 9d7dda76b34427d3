using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>A state as bytes and back, so that a restart goes on where the last run stopped. Scratch: it holds nothing
/// shown.</summary>
public static class StateText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        IgnoreReadOnlyProperties = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new KeyConverter(), new RegisterConverter() },
    };

    public static byte[] ToBytes(MachineState state) => JsonSerializer.SerializeToUtf8Bytes(state, Options);

    /// <summary>Throws <see cref="JsonException"/> for bytes that another version wrote in another shape.</summary>
    public static MachineState FromBytes(ReadOnlySpan<byte> bytes)
    {
        var state = JsonSerializer.Deserialize<MachineState>(bytes, Options)
            ?? throw new JsonException("an empty state");
        // The order of names must not depend on the culture the program runs in, and the bytes do not carry an order.
        return state with
        {
            Listed = state.Listed.WithComparers(StringComparer.Ordinal),
            Live = state.Live.ToImmutableSortedDictionary(
                pair => pair.Key, pair => Ordered(pair.Value), StringComparer.Ordinal),
            Streams = state.Streams.ToImmutableSortedDictionary(pair => pair.Key, pair => pair.Value with
            {
                Items = pair.Value.Items.WithComparers(StringComparer.Ordinal),
            }),
            LastCycles = state.LastCycles.WithComparers(StringComparer.Ordinal),
            FirstAsked = state.FirstAsked.WithComparers(StringComparer.Ordinal),
            GivenIds = state.GivenIds.WithComparers(StringComparer.Ordinal),
        };
    }

    private static LiveSetup Ordered(LiveSetup live) =>
        live with { LastCycles = live.LastCycles.WithComparers(StringComparer.Ordinal) };

    private sealed class KeyConverter : JsonConverter<OffsetKey>
    {
        public override OffsetKey Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            OffsetKey.FromCode(reader.GetInt32());

        public override void Write(Utf8JsonWriter writer, OffsetKey value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.Code);

        public override OffsetKey ReadAsPropertyName(
            ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            OffsetKey.FromCode(int.Parse(reader.GetString() ?? "", CultureInfo.InvariantCulture));

        public override void WriteAsPropertyName(
            Utf8JsonWriter writer, OffsetKey value, JsonSerializerOptions options) =>
            writer.WritePropertyName(value.Code.ToString(CultureInfo.InvariantCulture));
    }

    private sealed class RegisterConverter : JsonConverter<Register>
    {
        public override Register Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Named(reader.GetString());

        public override void Write(Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());

        public override Register ReadAsPropertyName(
            ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Named(reader.GetString());

        public override void WriteAsPropertyName(
            Utf8JsonWriter writer, Register value, JsonSerializerOptions options) =>
            writer.WritePropertyName(value.ToString());

        private static Register Named(string? text) =>
            Register.TryParse(text, out var register) ? register : throw new JsonException($"no register: {text}");
    }
}
