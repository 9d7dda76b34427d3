using System.Text.Json;

namespace SetupAudit.Shapes;

/// <summary>What one source of a machine can and cannot prove (contract section 5, <c>coverage</c>).</summary>
public sealed record CoverageView : IShape<CoverageView>
{
    public required string Machine { get; init; }

    /// <summary>The watched folder and its glob.</summary>
    public required string Source { get; init; }

    public required IReadOnlyList<string> Tells { get; init; }

    /// <summary>The moment its newest arrival speaks of; null where none has come.</summary>
    public DateTimeOffset? LastUtc { get; init; }

    public required IReadOnlyList<string> CannotTell { get; init; }

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Text("source", Source);
        json.Texts("tells", Tells);
        json.Time("last", LastUtc);
        json.Texts("cannotTell", CannotTell);
        json.WriteEndObject();
    }

    public static CoverageView Read(JsonElement body) => new()
    {
        Machine = body.TextOf("machine"),
        Source = body.TextOf("source"),
        Tells = body.Texts("tells"),
        LastUtc = body.Time("last"),
        CannotTell = body.Texts("cannotTell"),
    };
}
