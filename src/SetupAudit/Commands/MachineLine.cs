using System.Text.Json;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Commands;

/// <summary>A machine as <c>list machines</c> gives it.</summary>
internal sealed record MachineLine(MachineConfig Machine) : IShape
{
    /// <summary>The moment the newest of its evidence speaks of; null where there is none.</summary>
    public DateTimeOffset? LastUtc { get; init; }

    /// <summary>Up to here its sources are known to have been read; null before the first clean scan.</summary>
    public DateTimeOffset? HorizonUtc { get; init; }

    /// <summary>The setup that still goes on; null where none does.</summary>
    public string? OpenSetup { get; init; }

    public MachineCounts Counts { get; init; } = new();

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("machine", Machine.Name);
        json.WriteString("kind", Word.Of(Machine.Kind));
        json.WriteString("units", Length.ShortName(Machine.Units));
        json.WriteStartArray("sources");
        foreach (var watch in Machine.Watch) json.WriteStringValue(Coverage.SourceName(watch));
        json.WriteEndArray();
        json.WriteString("last", LastUtc is { } last ? Word.Of(last) : null);
        json.WriteString("horizon", HorizonUtc is { } horizon ? Word.Of(horizon) : null);
        json.WriteString("openSetup", OpenSetup);
        json.WriteNumber("setups", Counts.Setups);
        json.WriteNumber("changes", Counts.Changes);
        json.WriteNumber("findings", Counts.Findings);
        json.WriteNumber("cycles", Counts.Cycles);
        json.WriteNumber("arrivals", Counts.Arrivals);
        json.WriteNumber("unreadable", Counts.Unreadable);
        json.WriteEndObject();
    }
}
