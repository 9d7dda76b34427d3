using System.Text.Json;
using SetupAudit.Setups;

namespace SetupAudit.Shapes;

/// <summary>A cycle as it comes back (contract section 5, <c>cycle</c>).</summary>
public sealed record CycleView : IShape<CycleView>
{
    public required string Machine { get; init; }

    public string? Setup { get; init; }

    public string? Program { get; init; }

    public required DateTimeOffset StartUtc { get; init; }

    public DateTimeOffset? EndUtc { get; init; }

    public required CycleEnding Ended { get; init; }

    public string? Part { get; init; }

    public string? Serial { get; init; }

    public string? Pallet { get; init; }

    public string? Order { get; init; }

    public int? Count { get; init; }

    /// <summary>Ran while a Z stood raised: a dry run.</summary>
    public bool UnderLift { get; init; }

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required int Line { get; init; }

    public static CycleView Of(Cycle cycle) => new()
    {
        Machine = cycle.Machine,
        Setup = cycle.Setup,
        Program = cycle.Program,
        StartUtc = cycle.StartUtc,
        EndUtc = cycle.EndUtc,
        Ended = cycle.Ended,
        Part = cycle.Part,
        Serial = cycle.Serial,
        Pallet = cycle.Pallet,
        Order = cycle.Order,
        Count = cycle.Count,
        UnderLift = cycle.UnderLift,
        File = cycle.Source.File,
        Sha256 = cycle.Source.Sha256,
        Line = cycle.Source.Line,
    };

    /// <summary>The cycle itself, as far as the record keeps it.</summary>
    public Cycle ToCycle() => new()
    {
        Machine = Machine,
        Setup = Setup,
        Program = Program,
        StartUtc = StartUtc,
        EndUtc = EndUtc,
        Ended = Ended,
        Part = Part,
        Serial = Serial,
        Pallet = Pallet,
        Order = Order,
        Count = Count,
        UnderLift = UnderLift,
        Source = new Evidence.SourceLine(File, Sha256, Line),
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Text("setup", Setup);
        json.Text("program", Program);
        json.Time("start", StartUtc);
        json.Time("end", EndUtc);
        json.Text("ended", Word.Of(Ended));
        json.Text("part", Part);
        json.Text("serial", Serial);
        json.Text("pallet", Pallet);
        json.Text("order", Order);
        json.Number("count", Count);
        json.Flag("underLift", UnderLift);
        json.Text("file", File);
        json.Text("sha256", Sha256);
        json.Number("line", Line);
        json.WriteEndObject();
    }

    public static CycleView Read(JsonElement body) => new()
    {
        Machine = body.TextOf("machine"),
        Setup = body.Text("setup"),
        Program = body.Text("program"),
        StartUtc = body.TimeOf("start"),
        EndUtc = body.Time("end"),
        Ended = body.ChoiceOf<CycleEnding>("ended"),
        Part = body.Text("part"),
        Serial = body.Text("serial"),
        Pallet = body.Text("pallet"),
        Order = body.Text("order"),
        Count = body.Whole("count"),
        UnderLift = body.FlagOf("underLift"),
        File = body.TextOf("file"),
        Sha256 = body.TextOf("sha256"),
        Line = body.WholeOf("line"),
    };
}
