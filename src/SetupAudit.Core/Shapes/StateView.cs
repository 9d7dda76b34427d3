using System.Text.Json;
using SetupAudit.Datums;

namespace SetupAudit.Shapes;

/// <summary>Every register and tool offset of a machine as it stood at a moment (command <c>state</c>).</summary>
public sealed record StateView : IShape
{
    public required string Machine { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    /// <summary>The last moment before that any source spoke of; null where none did.</summary>
    public DateTimeOffset? LastEvidenceUtc { get; init; }

    public IReadOnlyList<StandingView> Offsets { get; init; } = [];

    /// <summary>The registers, in the order people list them.</summary>
    public IEnumerable<IGrouping<Register, StandingView>> Registers =>
        Offsets.Where(offset => offset.Key.IsDatum).GroupBy(offset => offset.Key.Register);

    public IEnumerable<IGrouping<int, StandingView>> Tools =>
        Offsets.Where(offset => offset.Key.IsTool).GroupBy(offset => offset.Key.Tool);

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Time("at", AtUtc);
        json.Time("lastEvidence", LastEvidenceUtc);
        json.Each("registers", [.. Registers], (inner, register) =>
        {
            inner.Text("register", register.Key.ToString());
            inner.Map("axes", register.Select(offset => (offset.Key.Axis.ToString(), offset)), StandingView.Write);
        });
        json.Each("tools", [.. Tools], (inner, tool) =>
        {
            inner.Number("tool", tool.Key);
            inner.Map("of", tool.Select(offset => (ToolPartName.Of(offset.Key.Part), offset)), StandingView.Write);
        });
        json.WriteEndObject();
    }
}
