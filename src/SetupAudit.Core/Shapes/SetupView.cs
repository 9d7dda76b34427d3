using System.Text.Json;
using SetupAudit.Findings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>
/// The head of a setup as it comes back (contract section 5, <c>setup</c>): all but the lists that grow with time.
/// <see cref="SetupDocument"/> puts head and lists together.
/// </summary>
public sealed record SetupView : IShape<SetupView>
{
    public required string Setup { get; init; }

    public required string Machine { get; init; }

    public string? Pallet { get; init; }

    public required DateTimeOffset OpenedUtc { get; init; }

    public DateTimeOffset? ClosedUtc { get; init; }

    public required SetupStatus Status { get; init; }

    public IReadOnlyList<string> Programs { get; init; } = [];

    public string? Setter { get; init; }

    public required Unit Unit { get; init; }

    /// <summary>Last change, measurement or touch before production.</summary>
    public required DateTimeOffset LastEventUtc { get; init; }

    public DateTimeOffset? CuttingUtc { get; init; }

    /// <summary>The moment its rules were judged at; null while they were not.</summary>
    public DateTimeOffset? JudgedUtc { get; init; }

    public IReadOnlyList<RegisterView> Registers { get; init; } = [];

    public IReadOnlyList<ToolView> Tools { get; init; } = [];

    public IReadOnlyList<ProgramUseView> Texts { get; init; } = [];

    public IReadOnlyList<SheetView> Sheets { get; init; } = [];

    public IReadOnlyList<LiftView> Lifts { get; init; } = [];

    public string? ClocksDisagree { get; init; }

    /// <summary>What a review made now would rest on.</summary>
    public ReviewBasis Basis { get; init; } = new("", []);

    /// <summary>The newest review, with the earlier ones in it; null where nobody reviewed it.</summary>
    public ReviewView? Review { get; init; }

    /// <summary>The head of a setup that has these findings.</summary>
    public static SetupView Of(
        MachineConfig machine, Setup setup, IReadOnlyList<ProgramUse> programs, IReadOnlyList<Finding> findings) =>
        new SetupHead(machine, setup, programs, findings).View();

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        WriteFields(json);
        json.Object("review", Review);
        json.WriteEndObject();
    }

    public static SetupView Read(JsonElement body) => new()
    {
        Setup = body.TextOf("setup"),
        Machine = body.TextOf("machine"),
        Pallet = body.Text("pallet"),
        OpenedUtc = body.TimeOf("opened"),
        ClosedUtc = body.Time("closed"),
        Status = body.ChoiceOf<SetupStatus>("status"),
        Programs = body.Texts("programs"),
        Setter = body.Text("setter"),
        Unit = Word.ParseUnit(body.TextOf("unit")),
        LastEventUtc = body.TimeOf("lastEvent"),
        CuttingUtc = body.Time("cutting"),
        JudgedUtc = body.Time("judged"),
        Registers = body.List("registers", RegisterView.Read),
        Tools = body.List("tools", ToolView.Read),
        Texts = body.List("texts", ProgramUseView.Read),
        Sheets = body.List("sheets", SheetView.Read),
        Lifts = body.List("lifts", LiftView.Read),
        ClocksDisagree = body.Text("clocksDisagree"),
        Basis = body.Object("basis", item => new ReviewBasis(item.TextOf("mark"), item.Texts("grave")))
            ?? new ReviewBasis("", []),
        Review = body.Object("review", ReviewView.Read),
    };

    /// <summary>The fields without the braces and the review, so that a document can go on after them.</summary>
    internal void WriteFields(Utf8JsonWriter json)
    {
        json.Text("setup", Setup);
        json.Text("machine", Machine);
        json.Text("pallet", Pallet);
        json.Time("opened", OpenedUtc);
        json.Time("closed", ClosedUtc);
        json.Text("status", Word.Of(Status));
        json.Texts("programs", Programs);
        json.Text("setter", Setter);
        json.Unit("unit", Unit);
        json.Time("lastEvent", LastEventUtc);
        json.Time("cutting", CuttingUtc);
        json.Time("judged", JudgedUtc);
        json.Each("registers", Registers, RegisterView.Write);
        json.Each("tools", Tools, ToolView.Write);
        json.Each("texts", Texts, ProgramUseView.Write);
        json.Each("sheets", Sheets, SheetView.Write);
        json.Each("lifts", Lifts, LiftView.Write);
        json.Text("clocksDisagree", ClocksDisagree);
        json.WriteStartObject("basis");
        json.Text("mark", Basis.Mark);
        json.Texts("grave", Basis.Grave);
        json.WriteEndObject();
    }
}
