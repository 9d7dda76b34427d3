using System.Text.Json;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>A change as it comes back (contract section 5, <c>change</c>).</summary>
public sealed record ChangeView : IShape<ChangeView>
{
    public required string Change { get; init; }

    public required string Machine { get; init; }

    public required OffsetKey Key { get; init; }

    public decimal? Before { get; init; }

    public decimal? After { get; init; }

    public decimal? Delta { get; init; }

    public required Unit Unit { get; init; }

    public DateTimeOffset? FromUtc { get; init; }

    public required DateTimeOffset ToUtc { get; init; }

    public required string Arrival { get; init; }

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required int Line { get; init; }

    public string? Setup { get; init; }

    public required ChangedBy By { get; init; }

    /// <summary>What says so, in words; null where nothing does.</summary>
    public string? BySays { get; init; }

    /// <summary>A print-out says the axis was touched; the value may be the same.</summary>
    public bool Touched { get; init; }

    /// <summary>It came after production started and opened no setup.</summary>
    public bool Adjustment { get; init; }

    public bool IsFirstSight => Before is null && !Touched;

    public static ChangeView Of(Change change, bool adjustment = false) => new()
    {
        Change = change.Id,
        Machine = change.Machine,
        Key = change.Key,
        Before = change.Before,
        After = change.After,
        Delta = change.Delta,
        Unit = change.Unit,
        FromUtc = change.FromUtc,
        ToUtc = change.ToUtc,
        Arrival = change.Arrival,
        File = change.Source.File,
        Sha256 = change.Source.Sha256,
        Line = change.Source.Line,
        Setup = change.Setup,
        By = change.By,
        BySays = change.BySays,
        Touched = change.Touched,
        Adjustment = adjustment,
    };

    /// <summary>The change itself, as far as the record keeps it.</summary>
    public Change ToChange() => new()
    {
        Id = Change,
        Machine = Machine,
        Key = Key,
        Before = Before,
        After = After,
        Unit = Unit,
        FromUtc = FromUtc,
        ToUtc = ToUtc,
        Arrival = Arrival,
        Source = new Evidence.SourceLine(File, Sha256, Line),
        By = By,
        BySays = BySays,
        Touched = Touched,
        Setup = Setup,
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("change", Change);
        json.Text("machine", Machine);
        json.Key(Key);
        json.Number("before", Before);
        json.Number("after", After);
        json.Number("delta", Delta);
        json.Unit("unit", Unit);
        json.Time("from", FromUtc);
        json.Time("to", ToUtc);
        json.Text("arrival", Arrival);
        json.Text("file", File);
        json.Text("sha256", Sha256);
        json.Number("line", Line);
        json.Text("setup", Setup);
        json.Text("by", Word.Of(By));
        json.Text("bySays", BySays);
        json.Flag("touched", Touched);
        json.Flag("adjustment", Adjustment);
        json.WriteEndObject();
    }

    public static ChangeView Read(JsonElement body) => new()
    {
        Change = body.TextOf("change"),
        Machine = body.TextOf("machine"),
        Key = body.Key(),
        Before = body.Number("before"),
        After = body.Number("after"),
        Delta = body.Number("delta"),
        Unit = Word.ParseUnit(body.TextOf("unit")),
        FromUtc = body.Time("from"),
        ToUtc = body.TimeOf("to"),
        Arrival = body.TextOf("arrival"),
        File = body.TextOf("file"),
        Sha256 = body.TextOf("sha256"),
        Line = body.WholeOf("line"),
        Setup = body.Text("setup"),
        By = body.ChoiceOf<ChangedBy>("by"),
        BySays = body.Text("bySays"),
        Touched = body.FlagOf("touched"),
        Adjustment = body.FlagOf("adjustment"),
    };
}
