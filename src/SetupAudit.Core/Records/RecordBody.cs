using System.Buffers;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace SetupAudit.Records;

/// <summary>
/// The bytes of an entry: one line of JSON whose members always stand in this order. They are made once, hashed and
/// kept; nobody makes them again.
/// </summary>
public sealed record RecordBody
{
    public const int Version = 1;

    private const string MomentForm = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    private static readonly string[] KindNames = [.. Enum.GetNames<RecordKind>().Select(NameOf)];

    private static readonly JsonWriterOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Which record this entry belongs to; it stands in every checkpoint as well.</summary>
    public required string Origin { get; init; }

    /// <summary>Place in the record, from 0.</summary>
    public required long Number { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public required RecordKind Kind { get; init; }

    /// <summary>One JSON object.</summary>
    public required string Said { get; init; }

    public byte[] ToBytes()
    {
        var buffer = new ArrayBufferWriter<byte>(256 + Said.Length);
        using (var json = new Utf8JsonWriter(buffer, Plain))
        {
            json.WriteStartObject();
            json.WriteNumber("v", Version);
            json.WriteString("origin", Origin);
            json.WriteNumber("number", Number);
            json.WriteString("at", AtUtc.UtcDateTime.ToString(MomentForm, CultureInfo.InvariantCulture));
            json.WriteString("kind", KindNames[(int)Kind]);
            json.WritePropertyName("said");
            json.WriteRawValue(Said);
            json.WriteEndObject();
        }
        return buffer.WrittenSpan.ToArray();
    }

    /// <summary>Reads bytes back; null where they are none of ours.</summary>
    public static RecordBody? Read(ReadOnlyMemory<byte> bytes)
    {
        try
        {
            using var document = JsonDocument.Parse(bytes, new JsonDocumentOptions { MaxDepth = 64 });
            var root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object || root.GetProperty("v").GetInt32() != Version) return null;
            var kind = Array.IndexOf(KindNames, root.GetProperty("kind").GetString());
            if (kind < 0 || root.GetProperty("origin").GetString() is not { } origin) return null;
            if (!DateTimeOffset.TryParseExact(root.GetProperty("at").GetString(), MomentForm,
                CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var atUtc))
                return null;
            return new RecordBody
            {
                Origin = origin,
                Number = root.GetProperty("number").GetInt64(),
                AtUtc = atUtc,
                Kind = (RecordKind)kind,
                Said = root.GetProperty("said").GetRawText(),
            };
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException
            or FormatException)
        {
            return null;
        }
    }

    /// <summary>The name of a kind as it stands in a body.</summary>
    public static string NameOf(RecordKind kind) => KindNames[(int)kind];

    private static string NameOf(string member) => string.Concat(
        member.Select((letter, at) => at > 0 && char.IsUpper(letter) ? $"-{letter}" : $"{letter}")).ToLowerInvariant();
}
