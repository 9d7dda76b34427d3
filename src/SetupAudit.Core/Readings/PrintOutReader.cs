using System.Globalization;
using System.Text;
using System.Text.Unicode;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Reads the lines of a print-out: the first pattern that matches says what a line means, and a line that none matches
/// is no reading. Lines do not depend on each other: one that cannot be read leaves the others as they are.
/// </summary>
public sealed class PrintOutReader
{
    /// <summary>A longer line is no line of a print-out.</summary>
    public const int LineMostBytes = 64 * 1024;

    private const int FaultsMost = 1000;

    private readonly MachineConfig _machine;
    private readonly WrittenTime? _time;
    private readonly PrintLinePattern[] _patterns;

    /// <summary>The configuration has been checked: patterns compile and meanings are known.</summary>
    public PrintOutReader(PrintOutConfig printOut, MachineConfig machine, ShopClock clock)
    {
        ArgumentNullException.ThrowIfNull(printOut);
        _machine = machine;
        _time = printOut.Time is null ? null : new WrittenTime(printOut.Time, machine, clock);
        _patterns = [.. printOut.Lines.Select(line => new PrintLinePattern(line))];
    }

    /// <summary>What the lines say. Does not throw.</summary>
    /// <param name="piece">Whole lines, though the last may lack its end.</param>
    /// <param name="firstLine">The number of the first line in the file.</param>
    public ReadResult<PrintLine> Read(ReadOnlySpan<byte> piece, int firstLine)
    {
        var readings = new List<PrintLine>();
        var faults = new List<Fault>();
        var text = PlainText.Of(piece).Bytes;
        if (text.IsEmpty && !piece.IsEmpty) faults.Add(new Fault(firstLine, 1, NoText(piece.Length)));
        var lines = new TextLines(text);
        var beyond = 0;
        while (lines.Read())
        {
            var fault = ReadLine(lines.Current, firstLine + lines.Number - 1, readings);
            if (fault is null) continue;
            if (faults.Count < FaultsMost) faults.Add(fault);
            else beyond++;
        }
        if (beyond > 0) faults.Add(new Fault(0, 0, Beyond(beyond)));
        return new ReadResult<PrintLine>(readings, faults);
    }

    private Fault? ReadLine(ReadOnlySpan<byte> line, int number, List<PrintLine> readings)
    {
        if (line.Length > LineMostBytes) return new Fault(number, 1, "the line is longer than 64 KB");
        string? text = null;
        foreach (var pattern in _patterns)
        {
            if (!pattern.MayMatch(line)) continue;
            text ??= Decode(line);
            var match = pattern.Regex.Match(text);
            if (!match.Success) continue;
            var fields = new PrintFields(pattern, match, _machine, _time, number);
            var reading = Take(pattern, ref fields, number);
            if (fields.Fault is null) readings.Add(reading);
            return fields.Fault;
        }
        return null;
    }

    private static string NoText(int sizeBytes) =>
        string.Create(CultureInfo.InvariantCulture, $"all {sizeBytes} bytes are NUL or other filler");

    private static string Beyond(int lines) =>
        string.Create(CultureInfo.InvariantCulture, $"and {lines} more lines that cannot be read");

    // Bytes that are no UTF-8 are Latin-1, in which every byte is a character.
    private static string Decode(ReadOnlySpan<byte> line) =>
        Utf8.IsValid(line) ? Encoding.UTF8.GetString(line) : Encoding.Latin1.GetString(line);

    private static PrintLine Take(PrintLinePattern pattern, ref PrintFields fields, int number) => new()
    {
        Line = number,
        Means = pattern.Means,
        AtUtc = fields.Time(),
        Program = fields.Program(),
        Feature = fields.Text("feature"),
        Register = fields.Register(),
        Axis = fields.Axis(),
        Value = fields.Number("value"),
        X = fields.Number("x"),
        Y = fields.Number("y"),
        Z = fields.Number("z"),
        Size = fields.Number("size"),
        Angle = fields.Number("angle"),
        Nominal = fields.Number("nominal"),
        Low = fields.Number("low"),
        High = fields.Number("high"),
        Deviation = fields.Number("deviation"),
        Tool = fields.Tool(),
        Of = pattern.Of,
        Code = fields.Text("code"),
        Text = fields.Text("text"),
        Setter = fields.Text("setter"),
        Pallet = fields.Text("pallet"),
        Part = fields.Text("part"),
        Serial = fields.Text("serial"),
        Order = fields.Text("order"),
        Operation = fields.Text("operation"),
        Count = fields.Whole("count"),
        Kind = pattern.Kind,
        By = pattern.By,
    };
}
