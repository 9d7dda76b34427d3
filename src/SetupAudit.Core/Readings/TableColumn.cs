using SetupAudit.Datums;

namespace SetupAudit.Readings;

/// <summary>What a column of a table holds: a name that says what a row is about, or values.</summary>
/// <param name="Name">Our name of the column, as the configuration writes it.</param>
/// <param name="Axis">The axis of a register whose values stand in the column.</param>
/// <param name="Part">The part of a tool whose values stand in the column.</param>
internal sealed record TableColumn(string Name, Axis? Axis = null, ToolPart? Part = null)
{
    public const string Register = "Register";
    public const string Tool = "Tool";
    public const string AxisName = "Axis";
    public const string Of = "Of";
    public const string Value = "Value";

    public bool HoldsValues => Axis is not null || Part is not null;

    /// <summary>Every column we have a name for. X and Z are a turning tool's as well as a register's.</summary>
    public static IReadOnlyList<TableColumn> All { get; } =
    [
        new(Register), new(Tool), new(AxisName), new(Of), new(Value),
        new("X", Datums.Axis.X, ToolPart.X), new("Y", Datums.Axis.Y), new("Z", Datums.Axis.Z, ToolPart.Z),
        new("A", Datums.Axis.A), new("B", Datums.Axis.B), new("C", Datums.Axis.C),
        new("U", Datums.Axis.U), new("V", Datums.Axis.V), new("W", Datums.Axis.W), new("R", Datums.Axis.R),
        new("Length", null, ToolPart.Length), new("LengthWear", null, ToolPart.LengthWear),
        new("Diameter", null, ToolPart.Diameter), new("DiameterWear", null, ToolPart.DiameterWear),
        new("XWear", null, ToolPart.XWear), new("ZWear", null, ToolPart.ZWear),
        new("NoseRadius", null, ToolPart.NoseRadius), new("NoseRadiusWear", null, ToolPart.NoseRadiusWear),
        new("Tip", null, ToolPart.Tip),
    ];

    /// <summary>Whether a heading is this column's name; "length wear" and "Length-Wear" are LengthWear.</summary>
    public bool IsHeaded(string heading)
    {
        var at = 0;
        foreach (var letter in heading)
        {
            if (letter is ' ' or '-' or '_') continue;
            if (at >= Name.Length || char.ToUpperInvariant(letter) != char.ToUpperInvariant(Name[at])) return false;
            at++;
        }
        return at == Name.Length;
    }
}
