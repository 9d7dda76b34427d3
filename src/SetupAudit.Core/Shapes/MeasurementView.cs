using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Units;

namespace SetupAudit.Shapes;

/// <summary>A measurement as it comes back (contract section 5, <c>measurement</c>).</summary>
public sealed record MeasurementView : IShape<MeasurementView>
{
    public required string Machine { get; init; }

    public string? Setup { get; init; }

    public required DateTimeOffset AtUtc { get; init; }

    public string? Feature { get; init; }

    public Register? Register { get; init; }

    public decimal? Size { get; init; }

    /// <summary>In degrees, whatever the machine's unit.</summary>
    public decimal? Angle { get; init; }

    public decimal? X { get; init; }

    public decimal? Y { get; init; }

    public decimal? Z { get; init; }

    public decimal? Nominal { get; init; }

    public decimal? Low { get; init; }

    public decimal? High { get; init; }

    public decimal? Deviation { get; init; }

    public required Unit Unit { get; init; }

    public required string File { get; init; }

    public required string Sha256 { get; init; }

    public required int Line { get; init; }

    /// <summary>The view of a measurement on a machine of that unit.</summary>
    public static MeasurementView Of(Measurement measurement, Unit machine) => new()
    {
        Machine = measurement.Machine,
        Setup = measurement.Setup,
        AtUtc = measurement.AtUtc,
        Feature = measurement.Feature,
        Register = measurement.Register,
        Size = measurement.Size,
        Angle = measurement.Angle,
        X = measurement.X,
        Y = measurement.Y,
        Z = measurement.Z,
        Nominal = measurement.Nominal,
        Low = measurement.Low,
        High = measurement.High,
        Deviation = measurement.Deviation,
        Unit = machine,
        File = measurement.Source.File,
        Sha256 = measurement.Source.Sha256,
        Line = measurement.Source.Line,
    };

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.Text("machine", Machine);
        json.Text("setup", Setup);
        json.Time("at", AtUtc);
        json.Text("feature", Feature);
        json.Text("register", Register?.ToString());
        json.Number("size", Size);
        json.Number("angle", Angle);
        json.Number("x", X);
        json.Number("y", Y);
        json.Number("z", Z);
        json.Number("nominal", Nominal);
        json.Number("low", Low);
        json.Number("high", High);
        json.Number("deviation", Deviation);
        json.Unit("unit", Unit);
        json.Text("file", File);
        json.Text("sha256", Sha256);
        json.Number("line", Line);
        json.WriteEndObject();
    }

    public static MeasurementView Read(JsonElement body) => new()
    {
        Machine = body.TextOf("machine"),
        Setup = body.Text("setup"),
        AtUtc = body.TimeOf("at"),
        Feature = body.Text("feature"),
        Register = body.Register("register"),
        Size = body.Number("size"),
        Angle = body.Number("angle"),
        X = body.Number("x"),
        Y = body.Number("y"),
        Z = body.Number("z"),
        Nominal = body.Number("nominal"),
        Low = body.Number("low"),
        High = body.Number("high"),
        Deviation = body.Number("deviation"),
        Unit = Word.ParseUnit(body.TextOf("unit")),
        File = body.TextOf("file"),
        Sha256 = body.TextOf("sha256"),
        Line = body.WholeOf("line"),
    };
}
