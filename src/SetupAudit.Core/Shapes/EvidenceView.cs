using System.Text.Json;
using SetupAudit.Evidence;

namespace SetupAudit.Shapes;

/// <summary>One line of evidence: file, SHA-256 of its bytes, line from 1.</summary>
public static class EvidenceView
{
    public static void Write(Utf8JsonWriter json, SourceLine source)
    {
        json.Text("file", source.File);
        json.Text("sha256", source.Sha256);
        json.Number("line", source.Line);
    }

    public static SourceLine Read(JsonElement body) =>
        new(body.TextOf("file"), body.TextOf("sha256"), body.WholeOf("line"));
}
