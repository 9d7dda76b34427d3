using System.Buffers;
using System.Text;
using System.Text.Json;
using SetupAudit.Shapes;

namespace SetupAudit.Reports;

/// <summary>The setup whole as one JSON document, the same that <c>list setups --json</c> gives of it.</summary>
public static class JsonReport
{
    public static string Of(SetupReport report)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, ShapeBody.Indented)) report.Setup.Write(json);
        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }
}
