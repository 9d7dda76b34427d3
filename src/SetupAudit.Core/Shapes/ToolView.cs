using System.Text.Json;
using SetupAudit.Datums;

namespace SetupAudit.Shapes;

/// <summary>A tool as a setup left it.</summary>
/// <param name="Called">Whether a program of the setup changes to it or calls its offset; null where no program is
/// known.</param>
public sealed record ToolView(int Tool, bool? Called, IReadOnlyList<(ToolPart Part, OffsetView Value)> Parts)
{
    internal static void Write(Utf8JsonWriter json, ToolView view)
    {
        json.Number("tool", view.Tool);
        json.Flag("called", view.Called);
        json.Map("of", view.Parts.Select(item => (ToolPartName.Of(item.Part), item.Value)), OffsetView.Write);
    }

    internal static ToolView Read(JsonElement body) => new(
        body.WholeOf("tool"),
        body.Flag("called"),
        body.Members("of", member => (ShapeValues.ParseToolPart(member.Name), OffsetView.Read(member.Value))));
}
