using System.Text.Json;

namespace SetupAudit.Shapes;

/// <summary>
/// A setup whole: its head with the rows that belong to it, as <c>list setups --json</c> and a report give it.
/// </summary>
public sealed record SetupDocument(
    SetupView Head,
    IReadOnlyList<MeasurementView> Measurements,
    IReadOnlyList<ChangeView> Changes,
    IReadOnlyList<CycleView> Cycles,
    IReadOnlyList<FindingView> Findings) : IShape
{
    /// <summary>Changes in production that opened no setup.</summary>
    public IEnumerable<ChangeView> Adjustments => Changes.Where(change => change.Adjustment);

    /// <summary>Changes that made the setup, first sights among them.</summary>
    public IEnumerable<ChangeView> Made => Changes.Where(change => !change.Adjustment);

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        Head.WriteFields(json);
        Write(json, "measurements", Measurements);
        Write(json, "changes", Made);
        Write(json, "adjustments", Adjustments);
        Write(json, "cycles", Cycles);
        Write(json, "findings", Findings);
        json.Object("review", Head.Review);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, IEnumerable<IShape> shapes)
    {
        json.WriteStartArray(name);
        foreach (var shape in shapes) shape.Write(json);
        json.WriteEndArray();
    }
}
