using System.Text.Json;
using System.Text.Json.Serialization;

namespace SetupAudit.Shares;

/// <summary>How what is known of a file is written for the store: JSON, without what is default.</summary>
internal static class KnownText
{
    private static readonly JsonSerializerOptions Json = new()
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault,
        IgnoreReadOnlyProperties = true,
        Converters = { new DigestText(), new JsonStringEnumConverter() },
    };

    public static string Write(KnownFile known) => JsonSerializer.Serialize(
        new Row
        {
            Kind = known.Kind,
            Listed = known.Listed,
            Taken = known.Taken,
            Content = known.Content,
            ReadUtc = known.ReadUtc,
            Refused = known.Refused,
            MissingUtc = known.MissingUtc,
            Growth = known.Growth,
        },
        Json);

    /// <summary>
    /// Null for what another version of the program wrote: the file is read again, its arrival known by its id.
    /// </summary>
    public static KnownFile? Read(Position position)
    {
        try
        {
            var row = JsonSerializer.Deserialize<Row>(position.State, Json);
            return row is null ? null : Known(position.Name, row);
        }
        catch (Exception fault) when (fault is JsonException or FormatException)
        {
            return null;
        }
    }

    private static KnownFile Known(string name, Row row) => new()
    {
        Name = name,
        Kind = row.Kind,
        Listed = row.Listed,
        Taken = row.Taken,
        Content = row.Content,
        ReadUtc = row.ReadUtc,
        Refused = row.Refused,
        MissingUtc = row.MissingUtc,
        Growth = row.Growth,
    };

    private sealed record Row
    {
        public EntryKind Kind { get; init; }

        public FileStamp Listed { get; init; }

        public FileStamp? Taken { get; init; }

        public Digest Content { get; init; }

        public DateTime ReadUtc { get; init; }

        public string? Refused { get; init; }

        public DateTime? MissingUtc { get; init; }

        public Growth? Growth { get; init; }
    }

    private sealed class DigestText : JsonConverter<Digest>
    {
        public override Digest Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Digest.Parse(reader.GetString() ?? "");

        public override void Write(Utf8JsonWriter writer, Digest value, JsonSerializerOptions options) =>
            writer.WriteStringValue(value.ToString());
    }
}
