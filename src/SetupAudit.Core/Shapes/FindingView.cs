using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Findings;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>A finding as it comes back (contract section 5, <c>finding</c>).</summary>
public sealed record FindingView : IShape<FindingView>
{
    public required string Finding { get; init; }

    public required string Rule { get; init; }

    public required Severity Severity { get; init; }

    public required string Machine { get; init; }

    public string? Setup { get; init; }

    public Register? Register { get; init; }

    public Axis? Axis { get; init; }

    public int? Tool { get; init; }

    public ToolPart? Of { get; init; }

    public decimal? Value { get; init; }

    public decimal? Expected { get; init; }

    public Bounds? ExpectedRange { get; init; }

    /// <summary>Of the value and of what was expected; null where the finding has no number.</summary>
    public Unit? Unit { get; init; }

    public required string Message { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public IReadOnlyList<SourceLine> Evidence { get; init; } = [];

    public IReadOnlyList<Cause> Causes { get; init; } = [];

    /// <summary>The view of a finding on a machine of that unit.</summary>
    public static FindingView From(Finding finding, Unit machine) => new()
    {
        Finding = finding.Id,
        Rule = finding.Rule,
        Severity = finding.Severity,
        Machine = finding.Machine,
        Setup = finding.Setup,
        Register = finding.Register,
        Axis = finding.Axis,
        Tool = finding.Tool,
        Of = finding.Of,
        Value = finding.Value,
        Expected = finding.Expected,
        ExpectedRange = finding.ExpectedRange,
        Unit = UnitOf(finding, machine),
        Message = finding.Message,
        AtUtc = finding.AtUtc,
        Evidence = finding.Evidence,
        Causes = finding.Causes,
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("finding", Finding);
        json.Text("rule", Rule);
        json.Text("severity", Word.Of(Severity));
        json.Text("machine", Machine);
        json.Text("setup", Setup);
        json.Key(Register, Axis, Tool, Of);
        json.Number("value", Value);
        json.NumberOrRange("expected", Expected, ExpectedRange);
        json.Unit("unit", Unit);
        json.Text("message", Message);
        json.Time("at", AtUtc);
        json.Each("evidence", Evidence, EvidenceView.Write);
        json.Each("causes", Causes, WriteCause);
        json.WriteEndObject();
    }

    public static FindingView Read(JsonElement body)
    {
        var (expected, range) = body.NumberOrRange("expected");
        return new()
        {
            Finding = body.TextOf("finding"),
            Rule = body.TextOf("rule"),
            Severity = body.ChoiceOf<Severity>("severity"),
            Machine = body.TextOf("machine"),
            Setup = body.Text("setup"),
            Register = body.Register("register"),
            Axis = body.Choice<Axis>("axis"),
            Tool = body.Whole("tool"),
            Of = body.ToolPart("of"),
            Value = body.Number("value"),
            Expected = expected,
            ExpectedRange = range,
            Unit = body.Unit("unit"),
            Message = body.TextOf("message"),
            AtUtc = body.TimeOf("at"),
            Evidence = body.List("evidence", EvidenceView.Read),
            Causes = body.List("causes", ReadCause),
        };
    }

    private static Unit? UnitOf(Finding finding, Unit machine)
    {
        if (finding.Value is null && finding.Expected is null && finding.ExpectedRange is null) return null;
        if (finding.Unit is { } own) return own;
        return finding is { Register: { } register, Axis: { } axis }
            ? OffsetKey.Datum(register, axis).UnitOn(machine)
            : machine;
    }

    private static void WriteCause(Utf8JsonWriter json, Cause cause)
    {
        json.Text("cause", cause.Name);
        json.Number("probability", cause.Probability);
        json.Number("predicted", cause.Predicted);
        json.Text("because", cause.Because);
    }

    private static Cause ReadCause(JsonElement body) => new(
        body.TextOf("cause"),
        body.Number("probability") ?? throw new FormatException("a cause without a probability"),
        body.Number("predicted"),
        body.TextOf("because"));
}
