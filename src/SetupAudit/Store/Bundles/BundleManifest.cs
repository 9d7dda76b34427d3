using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace SetupAudit.Store.Bundles;

/// <summary>
/// The list of what a bundle holds. The record itself says its SHA-256, so that nothing can be left out of it unseen.
/// </summary>
public sealed record BundleManifest
{
    public const int Version = 1;

    private static readonly JsonWriterOptions Form = new()
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Indented = true,
        NewLine = "\n",
    };

    public required string Setup { get; init; }

    public required string Origin { get; init; }

    public required string MadeUtc { get; init; }

    public required string Program { get; init; }

    /// <summary>In the order of their names.</summary>
    public required IReadOnlyList<BundleFile> Files { get; init; }

    /// <summary>Kept bytes that could not be read when the bundle was made.</summary>
    public required IReadOnlyList<string> EvidenceMissing { get; init; }

    /// <summary>Bytes that were dropped by people before the bundle was made, by SHA-256.</summary>
    public IReadOnlyList<string> EvidenceDropped { get; init; } = [];

    public byte[] ToBytes()
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, Form))
        {
            json.WriteStartObject();
            json.WriteNumber("v", Version);
            json.WriteString("setup", Setup);
            json.WriteString("origin", Origin);
            json.WriteString("made", MadeUtc);
            json.WriteString("program", Program);
            json.WriteStartArray("files");
            foreach (var file in Files)
            {
                json.WriteStartObject();
                json.WriteString("name", file.Name);
                json.WriteNumber("bytes", file.Bytes);
                json.WriteString("sha256", file.Sha256);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            Write(json, "evidenceMissing", EvidenceMissing);
            if (EvidenceDropped.Count > 0) Write(json, "evidenceDropped", EvidenceDropped);
            json.WriteEndObject();
        }
        return [.. buffer.WrittenSpan, (byte)'\n'];
    }

    /// <summary>Reads a list, only as <see cref="ToBytes"/> writes it; null where it is none. Does not throw.</summary>
    public static BundleManifest? Read(ReadOnlyMemory<byte> bytes)
    {
        try
        {
            using var document = JsonDocument.Parse(bytes, new JsonDocumentOptions { MaxDepth = 8 });
            var root = document.RootElement;
            var read = new BundleManifest
            {
                Setup = Text(root, "setup"),
                Origin = Text(root, "origin"),
                MadeUtc = Text(root, "made"),
                Program = Text(root, "program"),
                Files = [.. root.GetProperty("files").EnumerateArray().Select(file =>
                    new BundleFile(Text(file, "name"), file.GetProperty("bytes").GetInt64(), Text(file, "sha256")))],
                EvidenceMissing = [.. root.GetProperty("evidenceMissing").EnumerateArray()
                    .Select(sha256 => sha256.GetString() ?? "")],
                EvidenceDropped = !root.TryGetProperty("evidenceDropped", out var dropped) ? []
                    : [.. dropped.EnumerateArray().Select(sha256 => sha256.GetString() ?? "")],
            };
            return read.ToBytes().AsSpan().SequenceEqual(bytes.Span) ? read : null;
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException
            or FormatException)
        {
            return null;
        }
    }

    private static void Write(Utf8JsonWriter json, string name, IReadOnlyList<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts) json.WriteStringValue(text);
        json.WriteEndArray();
    }

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString() ?? "";
}
