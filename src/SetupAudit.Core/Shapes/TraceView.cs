using System.Text.Json;
using SetupAudit.Findings;

namespace SetupAudit.Shapes;

/// <summary>The answer after a scrap event as it comes back (contract section 5, <c>trace</c>).</summary>
public sealed record TraceView : IShape
{
    public required string Machine { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public required IReadOnlyList<TracedChangeView> Changes { get; init; }

    public DateTimeOffset? FromUtc { get; init; }

    public DateTimeOffset? ToUtc { get; init; }

    /// <summary>all, some or none.</summary>
    public required string CyclesKnown { get; init; }

    public required IReadOnlyList<ExposedCycleView> Cycles { get; init; }

    public CycleView? LastGood { get; init; }

    public CycleView? FirstAfter { get; init; }

    public required bool Unexplained { get; init; }

    public required decimal UnexplainedProbability { get; init; }

    public IReadOnlyList<string> NotRecorded { get; init; } = [];

    /// <summary>The sources that could not be read when this was traced.</summary>
    public IReadOnlyList<UnreadSource> FoundWithout { get; init; } = [];

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Time("at", AtUtc);
        json.Each("changes", Changes, WriteChange);
        if (FromUtc is null) json.WriteNull("window");
        else
        {
            json.WriteStartObject("window");
            json.Time("from", FromUtc);
            json.Time("to", ToUtc);
            json.WriteEndObject();
        }
        json.Text("cyclesKnown", CyclesKnown);
        json.Each("cycles", Cycles, (item, cycle) => WriteCycle(item, cycle.Cycle, cycle.Certain ? "under" : "maybe"));
        WriteOne(json, "lastGood", LastGood);
        WriteOne(json, "firstAfter", FirstAfter);
        json.Flag("unexplained", Unexplained);
        json.Number("unexplainedProbability", UnexplainedProbability);
        json.Texts("notRecorded", NotRecorded);
        json.Without(FoundWithout);
        json.WriteEndObject();
    }

    private static void WriteOne(Utf8JsonWriter json, string name, CycleView? cycle)
    {
        if (cycle is null)
        {
            json.WriteNull(name);
            return;
        }
        json.WriteStartObject(name);
        WriteCycle(json, cycle, null);
        json.WriteEndObject();
    }

    private static void WriteChange(Utf8JsonWriter json, TracedChangeView change)
    {
        json.Text("change", change.Change);
        json.Key(change.Key);
        json.Number("delta", change.Delta);
        json.Number("predicted", change.Predicted);
        json.Number("residual", change.Residual);
        json.Text("along", change.Along);
        json.Number("probability", change.Probability);
        json.Text("because", change.Because);
        json.Time("from", change.FromUtc);
        json.Time("to", change.ToUtc);
        json.Choice("by", change.By);
        json.Text("file", change.Source?.File);
        json.Number("line", change.Source?.Line);
    }

    private static void WriteCycle(Utf8JsonWriter json, CycleView cycle, string? exposure)
    {
        json.Text("program", cycle.Program);
        json.Time("start", cycle.StartUtc);
        json.Time("end", cycle.EndUtc);
        json.Text("ended", Word.Of(cycle.Ended));
        json.Text("part", cycle.Part);
        json.Text("serial", cycle.Serial);
        json.Text("pallet", cycle.Pallet);
        if (exposure is not null) json.Text("exposure", exposure);
    }
}
