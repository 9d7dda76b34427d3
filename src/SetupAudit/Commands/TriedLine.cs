using System.Globalization;
using System.Text.Json;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Commands;

/// <summary>One thing that was read on one line.</summary>
/// <param name="What">What it is about: an offset, or what the line of a print-out means.</param>
/// <param name="Says">What was read, in words.</param>
/// <param name="Fields">What was read, field by field.</param>
internal sealed record TriedLine(
    int Line, int Column, string What, string Says, IReadOnlyList<(string Name, object? Value)> Fields)
{
    public string LineText => Line > 0 ? Line.ToString(CultureInfo.InvariantCulture) : "";

    public string ColumnText => Column > 0 ? Column.ToString(CultureInfo.InvariantCulture) : "";

    public static TriedLine Of(OffsetReading reading, Unit machine)
    {
        var unit = Length.ShortName(reading.Key.UnitOn(machine));
        var value = reading.Value is { } known ? $"{known.ToString(CultureInfo.InvariantCulture)} {unit}" : "no value";
        return new(reading.Line, reading.Column, reading.Key.ToString(), reading.How switch
        {
            ReadingHow.Stands => value,
            ReadingHow.Adds => $"{value} is added",
            ReadingHow.Conditional => $"{value} after a block delete: told, not applied",
            _ => $"the present position reads {value}: what the register becomes is not known",
        },
        [
            ("line", reading.Line), ("column", reading.Column), .. KeyOf(reading.Key), ("value", reading.Value),
            ("unit", unit), ("how", Word.Of(reading.How)),
        ]);
    }

    public static TriedLine Of(PrintLine line)
    {
        var means = JsonNamingPolicy.KebabCaseLower.ConvertName(line.Means.ToString());
        (string Name, object? Value)[] fields =
        [
            ("at", line.AtUtc is { } at ? Word.Of(at) : null), ("program", line.Program), ("feature", line.Feature),
            ("register", line.Register?.ToString()), ("axis", line.Axis?.ToString()), ("value", line.Value),
            ("x", line.X), ("y", line.Y), ("z", line.Z), ("size", line.Size), ("angle", line.Angle),
            ("nominal", line.Nominal), ("low", line.Low), ("high", line.High), ("deviation", line.Deviation),
            ("tool", line.Tool), ("of", line.Of is { } part ? ToolPartName.Of(part) : null), ("code", line.Code),
            ("text", line.Text), ("setter", line.Setter), ("pallet", line.Pallet), ("part", line.Part),
            ("serial", line.Serial), ("order", line.Order), ("operation", line.Operation), ("count", line.Count),
            ("kind", line.Kind), ("by", line.By),
        ];
        var said = fields.Where(field => field.Value is not null)
            .Select(field => string.Create(CultureInfo.InvariantCulture, $"{field.Name} {field.Value}"));
        return new(line.Line, 0, means, string.Join(", ", said), [("line", line.Line), ("means", means), .. fields]);
    }

    public static TriedLine Of(ProgramWrite write, Unit machine)
    {
        var unit = Length.ShortName(write.Key.UnitOn(machine));
        var value = write.Value is { } known
            ? $"{known.ToString(CultureInfo.InvariantCulture)} {unit}"
            : "a value that the program alone does not give";
        var how = (write.Adds ? " is added" : "") + (write.Conditional ? ", where the block is not passed over" : "");
        var isNamed = write.Target == ProgramWriteTarget.Named;
        var what = isNamed ? write.Key.ToString()
            : write.Key.IsTool ? $"{ToolPartName.Of(write.Key.Part)} of a tool it works out"
            : $"{write.Key.Axis} of a register it works out";
        return new(write.Line, 0, what, $"writes {value}{how}",
        [
            ("line", write.Line), ("means", "write"), .. isNamed ? KeyOf(write.Key) : UnknownKeyOf(write.Key),
            ("value", write.Value), ("unit", unit),
        ]);
    }

    public static TriedLine Of(ProbingMove move) => new(move.Line, 0, "probing", $"{move.Kind}, search "
        + (move.Search?.ToString(CultureInfo.InvariantCulture) ?? "not given by the program"),
        [("line", move.Line), ("means", "probing"), ("kind", move.Kind), ("search", move.Search)]);

    public static TriedLine Of(RegisterScope scope)
    {
        var axes = string.Join(' ', scope.Axes);
        var says = scope.Cuts switch
        {
            true => $"cuts, moves in {axes}",
            false => "called, not cut in",
            _ => "called; whether it cuts hangs on a program that has not been read",
        };
        return new(scope.Line, 0, scope.Register.ToString(), says,
        [
            ("line", scope.Line), ("means", "register"), ("register", scope.Register.ToString()), ("axes", axes),
            ("says", says),
        ]);
    }

    public static TriedLine Of(ToolScope scope)
    {
        var says = $"length offset {Number(scope.Length)}, diameter offset {Number(scope.Diameter)}";
        return new(scope.Line, 0, string.Create(CultureInfo.InvariantCulture, $"T{scope.Tool}"), says,
        [
            ("line", scope.Line), ("means", "tool"), ("tool", scope.Tool), ("length", scope.Length),
            ("diameter", scope.Diameter),
        ]);
    }

    /// <summary>What a sheet asks for, item by item; a sheet's readings carry no line.</summary>
    public static IEnumerable<TriedLine> Of(SetupSheet sheet)
    {
        var unit = Length.ShortName(sheet.Units);
        yield return Asked("sheet", $"of {sheet.Program}, in {unit}");
        foreach (var datum in sheet.Datums)
        {
            var ranges = datum.Expect.OrderBy(item => item.Key).Select(item => $"{item.Key} {Range(item.Value)}");
            var values = datum.Fixed.OrderBy(item => item.Key)
                .Select(item => $"{item.Key} always {Number(item.Value)}");
            string[] axes = datum.Axes.Count == 0 ? [] : ["axes " + string.Concat(datum.Axes)];
            yield return Asked(datum.Register.ToString(), string.Join(", ",
                [.. axes, .. datum.At is { } at ? [$"at {at}"] : Array.Empty<string>(), .. ranges, .. values]));
        }
        foreach (var tool in sheet.Tools)
            yield return Asked(string.Create(CultureInfo.InvariantCulture, $"T{tool.Tool}"),
                tool.Length is { } length ? $"length {Range(length)}" : "no length given");
        foreach (var measure in sheet.Measured)
            yield return Asked(measure.Feature ?? string.Join(" to ", measure.Between), Of(measure));
    }

    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        foreach (var (name, value) in Fields) Write(json, name, value);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, object? value)
    {
        switch (value)
        {
            case null:
                json.WriteNull(name);
                break;
            case decimal number:
                json.WriteNumber(name, number);
                break;
            case int number:
                json.WriteNumber(name, number);
                break;
            default:
                json.WriteString(name, value.ToString());
                break;
        }
    }

    private static TriedLine Asked(string what, string says) =>
        new(0, 0, what, says, [("line", null), ("what", what), ("says", says)]);

    private static string Of(SheetMeasure measure) => string.Join(", ", new[]
    {
        measure.Size is { } size ? $"size {Range(size)}" : null,
        measure.Angle is { } angle ? $"angle {Range(angle)} deg" : null,
        measure.Distance is { } distance ? $"distance {Range(distance)}" : null,
    }.OfType<string>());

    private static string Range(Bounds bounds) => $"{Number(bounds.Low)} to {Number(bounds.High)}";

    private static string Number(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Number(int? value) => value?.ToString(CultureInfo.InvariantCulture) ?? "none";

    private static (string, object?)[] UnknownKeyOf(OffsetKey key) => key.IsTool
        ? [("register", null), ("axis", null), ("tool", null), ("of", ToolPartName.Of(key.Part))]
        : [("register", null), ("axis", key.Axis.ToString()), ("tool", null), ("of", null)];

    private static (string, object?)[] KeyOf(OffsetKey key) => key.IsTool
        ? [("register", null), ("axis", null), ("tool", key.Tool), ("of", ToolPartName.Of(key.Part))]
        : [("register", key.Register.ToString()), ("axis", key.Axis.ToString()), ("tool", null), ("of", null)];
}
