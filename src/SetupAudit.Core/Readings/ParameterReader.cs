using System.Globalization;
using SetupAudit.Evidence;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>
/// Reads a dump of numbered parameters, one a line. Values are in the machine's unit and need no point (RS274/NGC
/// 3.2.1): they never count increments. Numbers that no map names are passed over. Reading stops at the first fault.
/// </summary>
internal ref struct ParameterReader
{
    private readonly PlainText _text;
    private readonly MachineConfig _machine;
    private readonly List<OffsetReading> _offsets;
    private readonly List<PrintLine> _measured = [];
    private readonly SeenValues _seen;
    private TextLines _lines;
    private bool _anyParameter;
    private bool _opened;

    private ParameterReader(PlainText text, MachineConfig machine)
    {
        // The shortest lines hold no fewer bytes than this; a hostile size reserves no more than a first list.
        const int readingBytes = 24, mostReserved = 4096;
        _text = text;
        _machine = machine;
        _offsets = new List<OffsetReading>(Math.Min(text.Bytes.Length / readingBytes, mostReserved));
        _seen = new SeenValues(_offsets);
        _lines = new TextLines(text.Bytes);
    }

    public static DumpResult Read(PlainText text, MachineConfig machine)
    {
        var reader = new ParameterReader(text, machine);
        var fault = reader.ReadAll();
        return new DumpResult(reader._offsets, reader._measured, fault is null ? [] : [fault]);
    }

    private Fault? ReadAll()
    {
        while (_lines.Read())
        {
            if (_lines.Current.Length > WordScanner.LineMostBytes)
                return At(WordScanner.LineMostBytes + 1, "the line is longer than any parameter's");
            var line = ParameterLine.Of(_lines.Current);
            if (line.Kind == ParameterLineKind.Percent)
            {
                if (_opened || _anyParameter) return Nothing();
                _opened = true;
                continue;
            }
            if (IsCut(line)) return At(line.Column, CutReason);
            if (Take(line) is { } fault) return fault;
            if (_offsets.Count + _measured.Count > DumpReader.ReadingsMost) return At(1, DumpReader.TooMany);
        }
        if (!_opened) return Nothing();
        return _lines.EndMissing
            ? At(_lines.Current.Length + 1, CutReason)
            : new Fault(_lines.Number + 1, 1, CutReason);
    }

    private Fault? Take(in ParameterLine line)
    {
        switch (line.Kind)
        {
            case ParameterLineKind.Value:
                _anyParameter = true;
                return TakeValue(line);
            case ParameterLineKind.Wrong:
                return At(line.Column, line.Reason ?? "");
            // RS274/NGC 3.2.1 allows any header before the data; but one that begins with the number of an offset is
            // data in a form that is not known, and would be lost in silence.
            case ParameterLineKind.Other when _anyParameter || ParameterTable.TryFind(_machine, line.Number, out _):
                return At(line.Column, "a parameter such as 5221 -310.2 was expected");
            default:
                return null;
        }
    }

    private Fault? TakeValue(in ParameterLine line)
    {
        if (ParameterTable.TryFind(_machine, line.Number, out var key))
        {
            if (Unfit(line) is { } fault) return fault;
            if (_seen.Contradicts(key, line.Value?.Value))
                return At(line.Column, Text($"{key} (parameter {line.Number}) stood before, with another value"));
            _offsets.Add(new OffsetReading(_lines.Number, line.Column, key, line.Value?.Value, ReadingHow.Stands));
        }
        if ((line.Value is not null || line.IsTooLong) && ParameterTable.Measured(_machine, line.Number) is { } name)
        {
            if (Unfit(line) is { } fault) return fault;
            _measured.Add(Measurement(line, name));
        }
        return null;
    }

    private readonly PrintLine Measurement(in ParameterLine line, string name)
    {
        var isAngle = name.Contains("angle", StringComparison.OrdinalIgnoreCase);
        var value = line.Value?.Value;
        return new PrintLine
        {
            Line = _lines.Number,
            Means = PrintMeaning.Measured,
            Feature = name,
            Value = value,
            Size = isAngle ? null : value,
            Angle = isAngle ? value : null,
        };
    }

    private readonly Fault? Unfit(in ParameterLine line) =>
        line.IsTooLong || line.Value is { FitsMachine: false }
            ? At(line.Column, Text($"parameter {line.Number} has a value beyond any machine"))
            : null;

    /// <summary>The text stops in this line though it should go on: the digits at its very end may be cut.</summary>
    private readonly bool IsCut(in ParameterLine line) => _lines.EndMissing && (_opened || _text.EndsInNuls)
        && (line.Kind != ParameterLineKind.Value || line.End == _lines.Current.Length);

    private readonly string CutReason => _opened
        ? "the file opened with % and ends here without a closing %: the dump is cut off"
        : "the text stops here within a line and NULs follow: the dump is cut off";

    private readonly Fault? Nothing() => _anyParameter
        ? null
        : new Fault(0, 0, "no parameter was found; lines such as 5221 -310.2 were expected");

    private readonly Fault At(int column, string reason) => new(_lines.Number, column, reason);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
