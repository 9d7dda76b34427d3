using System.Text;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Shop.Configuration;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Reads the values of registers and tools out of one observation: a table of entries with cells, a set of entries with
/// values, or one value whose name says which. A cell that cannot be read is a fault, and its neighbours still count;
/// what is unavailable or not there is unsaid.
/// </summary>
internal sealed class StreamOffsets(StreamXml xml, MachineConfig machine, WatchConfig watch, List<Fault> faults)
{
    private const string Unavailable = "UNAVAILABLE";
    private static readonly Axis[] Straight = [Axis.X, Axis.Y, Axis.Z];

    private readonly StreamKeys _keys = new(machine, watch);
    private readonly Unit _unit = watch.Stream?.Units ?? Unit.Millimetre;
    private List<OffsetReading> _offsets = [];
    private string _text = "";

    /// <summary>How many values were read in all.</summary>
    public int Count { get; private set; }

    /// <summary>What one element says; the reader stands on it, and behind it afterwards.</summary>
    /// <param name="what">WorkOffset, ToolOffset, Translation or Rotation.</param>
    /// <param name="name">The name of what was observed, which may name a register.</param>
    /// <param name="subType">For tools: which part the values of a set are.</param>
    /// <returns>The values, and the text that stands beside them.</returns>
    public (IReadOnlyList<OffsetReading> Offsets, string Text) Read(string what, string? name, string? subType)
    {
        (_offsets, _text) = ([], "");
        if (xml.IsEmpty) return (_offsets, "");
        var (depth, line, column) = (xml.Depth, xml.Line, xml.Column);
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.IsElement && xml.Name == "Entry") ReadEntry(what, name, subType);
            else if (xml.Depth == depth + 1 && xml.TextHere() is { Length: > 0 } text) _text = text;
        }
        if (_offsets.Count == 0 && _text is not ("" or Unavailable)
            && what == "WorkOffset" && _keys.TryDatum(name, out var datum)) Add(line, column, datum, _text);
        Count += _offsets.Count;
        return (_offsets, _text);
    }

    private void ReadEntry(string what, string? name, string? subType)
    {
        var (depth, line, column) = (xml.Depth, xml.Line, xml.Column);
        var key = xml.Attribute("key") ?? "";
        var isRemoved = xml.Attribute("removed") == "true";
        var cells = new List<(int Line, int Column, string Key, string Text)>();
        var text = "";
        if (!xml.IsEmpty)
            while (xml.Read() && xml.Depth > depth)
            {
                if (xml.IsElement && xml.Name == "Cell") cells.Add(ReadCell());
                else if (xml.Depth == depth + 1 && xml.TextHere() is { Length: > 0 } said) text = said;
            }
        if (isRemoved)
        {
            Remove(what, line, column, key);
            return;
        }
        if (what == "ToolOffset") TakeTool(line, column, key, cells, text, subType);
        else TakeRegister(what, (line, column), key, cells, text, name);
    }

    private (int Line, int Column, string Key, string Text) ReadCell()
    {
        var (depth, line, column) = (xml.Depth, xml.Line, xml.Column);
        var key = xml.Attribute("key") ?? "";
        var text = "";
        if (!xml.IsEmpty)
            while (xml.Read() && xml.Depth > depth)
                if (xml.TextHere() is { Length: > 0 } said) text = said;
        return (line, column, key, text);
    }

    private void TakeRegister(string what, (int Line, int Column) at, string key,
        List<(int Line, int Column, string Key, string Text)> cells, string text, string? name)
    {
        if (_keys.TryRegister(key, out var register))
        {
            foreach (var cell in cells)
                if (_keys.Axis(cell.Key) is { } axis)
                    Add(cell.Line, cell.Column, OffsetKey.Datum(register, axis), cell.Text);
            if (cells.Count == 0) TakeThree(what, at, register, text);
        }
        else if (cells.Count == 0 && _keys.TryDatum(key, out var datum)) Add(at.Line, at.Column, datum, text);
        else if (cells.Count == 0 && _keys.TryRegister(name, out var named) && _keys.Axis(key) is { } axis)
            Add(at.Line, at.Column, OffsetKey.Datum(named, axis), text);
        else Fail(at.Line, at.Column, $"{Wording.Quote(key)} is no register's name; G54 or another was expected");
    }

    // Three numbers in the order X, Y, Z; of a rotation about X, Y and Z only the last is a register's own.
    private void TakeThree(string what, (int Line, int Column) at, Register register, string text)
    {
        if (text is "" or Unavailable) return;
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        if (words.Length != Straight.Length)
            Fail(at.Line, at.Column, $"{Wording.Quote(text)} stands for {register}: three numbers were expected");
        else if (what != "Rotation")
            for (var index = 0; index < Straight.Length; index++)
                Add(at.Line, at.Column, OffsetKey.Datum(register, Straight[index]), words[index]);
        else if (words[..2].All(word => TryNumber(word, out var number) && number.Value == 0m))
            Add(at.Line, at.Column, OffsetKey.Datum(register, Axis.R), words[2]);
    }

    private void TakeTool(int line, int column, string key,
        List<(int Line, int Column, string Key, string Text)> cells, string text, string? subType)
    {
        if (StreamKeys.Tool(key) is not { } tool)
        {
            Fail(line, column, $"{Wording.Quote(key)} is no tool's number; 0 to 9999999 were expected");
            return;
        }
        foreach (var cell in cells) TakePart(cell.Line, cell.Column, tool, cell.Key, cell.Text);
        if (cells.Count == 0 && subType is not null) TakePart(line, column, tool, subType, text);
    }

    private void TakePart(int line, int column, int tool, string key, string text)
    {
        if (_keys.Part(key) is { } part)
            Add(line, column, OffsetKey.OfTool(tool, part.Part), text, part.Times);
    }

    // The control's table has the entry no more: it holds no value, which is not the same as zero.
    private void Remove(string what, int line, int column, string key)
    {
        if (what == "ToolOffset" && StreamKeys.Tool(key) is { } tool)
            _offsets.Add(new(line, column, OffsetKey.OfTool(tool, ToolPart.Length), null, ReadingHow.Stands));
        else if (what != "ToolOffset" && _keys.TryRegister(key, out var register))
            foreach (var axis in Straight)
                _offsets.Add(new(line, column, OffsetKey.Datum(register, axis), null, ReadingHow.Stands));
    }

    private void Add(int line, int column, OffsetKey key, string text, int times = 1)
    {
        if (text is "" or Unavailable) return;
        if (Count + _offsets.Count >= DumpReader.ReadingsMost) return;
        if (!TryNumber(text, out var number))
            Fail(line, column, $"{Wording.Quote(text)} stands for {key}: a number was expected");
        else if (key is { IsTool: true, Part: ToolPart.Tip } && !number.TryWhole(out _))
            Fail(line, column, $"{Wording.Quote(text)} stands for {key}: a whole number was expected");
        else _offsets.Add(new OffsetReading(line, column, key, InUnit(key, number.Value * times), ReadingHow.Stands));
    }

    private decimal InUnit(OffsetKey key, decimal value) =>
        key is { IsTool: true, Part: ToolPart.Tip } || key.UnitOn(machine.Units) == Unit.Degree
            ? value
            : Length.Convert(value, _unit, machine.Units);

    private static bool TryNumber(string text, out NumberText number)
    {
        number = default;
        const int longest = 64;
        Span<byte> bytes = stackalloc byte[longest];
        return text.Length <= longest
            && Ascii.FromUtf16(text, bytes, out var length) == System.Buffers.OperationStatus.Done
            && NumberText.ParseWithExponent(bytes[..length], out number) == NumberScan.Number && number.FitsMachine;
    }

    private void Fail(int line, int column, string reason)
    {
        if (faults.Count < StreamsReader.FaultsMost) faults.Add(new Fault(line, column, reason));
    }
}
