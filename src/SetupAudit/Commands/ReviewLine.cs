using System.Text.Json;
using SetupAudit.Shapes;

namespace SetupAudit.Commands;

/// <summary>A review as the list of reviews gives it: its own fields, and where it shows now.</summary>
internal sealed record ReviewLine(ReviewView View) : IShape
{
    /// <summary>The setup that holds the reviewed opening now; null where none does.</summary>
    public string? ShownOn { get; init; }

    public bool Superseded { get; init; }

    public string? Doubt { get; init; }

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        View.WriteFields(json);
        json.WriteString("shownOn", ShownOn);
        json.WriteBoolean("superseded", Superseded);
        json.WriteString("queriedBecause", Doubt);
        json.WriteEndObject();
    }
}
