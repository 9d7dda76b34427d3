using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Findings;

namespace SetupAudit.Shapes;

/// <summary>The answer before cutting as it comes back (contract section 5, <c>ready</c>).</summary>
public sealed record ReadyView : IShape
{
    public required string Machine { get; init; }

    /// <summary>The programs it is about; null where none is known.</summary>
    public string? Program { get; init; }

    /// <summary>Null where none has been opened yet.</summary>
    public string? Setup { get; init; }

    public required ReadyVerdict Verdict { get; init; }

    /// <summary>The age of the word it rests on: the oldest last proof among what the programs need.</summary>
    public DateTimeOffset? AsOfUtc { get; init; }

    public IReadOnlyList<RegisterView> Registers { get; init; } = [];

    public IReadOnlyList<ToolView> Tools { get; init; } = [];

    public IReadOnlyList<FindingView> Findings { get; init; } = [];

    /// <summary>Why the answer is unknown, or would be were nothing found; empty where it is not.</summary>
    public IReadOnlyList<string> Unknown { get; init; } = [];

    /// <summary>The sources that could not be read when this was answered.</summary>
    public IReadOnlyList<UnreadSource> FoundWithout { get; init; } = [];

    /// <summary>The verdict's word: nothing-found, look, stop or unknown.</summary>
    public string VerdictWord => Verdict == ReadyVerdict.NothingFound ? "nothing-found" : Word.Of(Verdict);

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Text("program", Program);
        json.Text("setup", Setup);
        json.Text("verdict", VerdictWord);
        json.Time("asOf", AsOfUtc);
        json.Texts("unknown", Unknown);
        json.Without(FoundWithout);
        json.Each("registers", Registers, WriteRegister);
        json.Each("tools", Tools, WriteTool);
        json.WriteStartArray("findings");
        foreach (var finding in Findings) finding.Write(json);
        json.WriteEndArray();
        json.Texts("notSeen", NotSeen.Always);
        json.WriteEndObject();
    }

    private static void WriteRegister(Utf8JsonWriter json, RegisterView register)
    {
        json.Text("register", register.Register.ToString());
        json.Flag("cuts", register.Cuts);
        json.Map("axes", register.Axes.Select(item => (item.Axis.ToString(), item.Value)), WriteValue);
    }

    private static void WriteTool(Utf8JsonWriter json, ToolView tool)
    {
        json.Number("tool", tool.Tool);
        json.Flag("called", tool.Called);
        json.Map("of", tool.Parts.Select(item => (ToolPartName.Of(item.Part), item.Value)), WriteValue);
    }

    private static void WriteValue(Utf8JsonWriter json, OffsetView value)
    {
        json.Number("value", value.After);
        json.Flag("set", value.Set);
        json.Time("at", value.SinceUtc);
        json.Choice("by", value.By);
        json.Flag("needed", value.Needed);
    }
}
