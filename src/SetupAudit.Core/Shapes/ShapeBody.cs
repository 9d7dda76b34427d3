using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace SetupAudit.Shapes;

/// <summary>
/// Turns shapes into JSON text and back. Numbers keep their digits both ways: -310.2000 stays -310.2000.
/// </summary>
public static class ShapeBody
{
    /// <summary>
    /// JSON as a person reads it, accents and plus signs as they are. Quotes, backslashes and control characters are
    /// escaped; whoever puts a body into HTML must escape it for HTML.
    /// </summary>
    public static JsonWriterOptions Compact { get; } = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static JsonWriterOptions Indented { get; } = new()
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        Indented = true,
        NewLine = "\n",
    };

    /// <summary>The body on one line: the same shape always gives the same text.</summary>
    public static string Of(IShape shape)
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        using (var json = new Utf8JsonWriter(buffer, Compact)) shape.Write(json);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    /// <summary>Reads a body back into its view.</summary>
    public static T Read<T>(string body)
        where T : IShape<T>
    {
        using var document = JsonDocument.Parse(body);
        return T.Read(document.RootElement);
    }
}
