using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Reads a dump of blocks that set offsets when they are run (G10). Reading stops at the first fault: what came before
/// it counts, whole blocks and, of the faulty block, the words before it; behind it a mode may have changed unseen.
/// </summary>
internal ref struct DataSettingReader
{
    private readonly PlainText _text;
    private readonly MachineConfig _machine;
    private readonly List<OffsetReading> _readings;
    private readonly SettingWriter _writer;
    private SettingModes _modes;
    private WordBlock _block;
    private WordScanner _scanner;
    private bool _anyWord;
    private bool _anyEntry;
    private bool _opened;
    private int _lastWordEnd;
    private int _lastWordColumn;

    private DataSettingReader(PlainText text, MachineConfig machine)
    {
        // A reading is seldom written in fewer bytes than this; a hostile size reserves no more than a first list.
        const int readingBytes = 12, mostReserved = 4096;
        _text = text;
        _machine = machine;
        _readings = new List<OffsetReading>(Math.Min(text.Bytes.Length / readingBytes, mostReserved));
        _writer = new SettingWriter(machine, _readings);
        _modes = new SettingModes(machine);
        _scanner = new WordScanner(text.Bytes);
    }

    public static DumpResult Read(PlainText text, MachineConfig machine)
    {
        var reader = new DataSettingReader(text, machine);
        var fault = reader.ReadAll();
        return new DumpResult(reader._readings, [], fault is null ? [] : [fault]);
    }

    private Fault? ReadAll()
    {
        while (_scanner.Read())
        {
            switch (_scanner.Kind)
            {
                case WordKind.Word:
                    AddWord();
                    break;
                case WordKind.EndOfLine:
                    if (EndBlock() is { } fault) return fault;
                    if (_readings.Count > DumpReader.ReadingsMost)
                        return new Fault(_scanner.Line, 1, DumpReader.TooMany);
                    break;
                case WordKind.Percent:
                    if (_anyWord || _opened) return EndBlock() ?? Nothing();
                    _opened = true;
                    break;
                case WordKind.BlockDelete:
                    _block.MakeConditional();
                    break;
                case WordKind.Fault:
                    return CutBlock(new Fault(_scanner.Line, _scanner.Column, _scanner.Reason ?? ""));
                case WordKind.Keyword:
                    return CutBlock(new Fault(_scanner.Line, _scanner.Column,
                        "a flow word stands here: what runs behind it depends, and a dump holds plain blocks"));
                case WordKind.Setting:
                    if (TakeSetting() is { } contrary) return CutBlock(contrary);
                    break;
            }
        }
        return _opened ? NotClosed() : Nothing();
    }

    private void AddWord()
    {
        _anyWord = true;
        _block.Add(in _scanner);
        _lastWordEnd = _scanner.End;
        _lastWordColumn = _scanner.Column;
    }

    /// <summary>A parameter write: sets an offset where a map names its number, and else is passed over.</summary>
    private Fault? TakeSetting()
    {
        _anyWord = true;
        if (!NumberText.TryParse(_scanner.Target, out var target) || !target.TryWhole(out var number)
            || !ParameterTable.TryFind(_machine, number, out var key)) return null;
        if (!_scanner.IsNumber || !_scanner.Number.FitsMachine)
            return new Fault(_scanner.Line, _scanner.Column,
                "this parameter holds an offset, and its value is no number that a machine can hold");
        // RS274/NGC 3.2.1: a parameter's value is a number of the machine's units, point or none.
        var how = _block.Conditional ? ReadingHow.Conditional : ReadingHow.Stands;
        _anyEntry = true;
        _readings.Add(new OffsetReading(_scanner.Line, _scanner.Column, key, _scanner.Number.Value, how));
        return null;
    }

    private Fault? EndBlock()
    {
        var stops = _scanner.Kind == WordKind.EndOfLine && _scanner.LineEndMissing;
        if (stops && (_opened || _text.EndsInNuls)) return CutOff();
        var fault = WriteBlock();
        _block.Clear();
        return fault;
    }

    private Fault? WriteBlock()
    {
        if (!_modes.Enter(in _block)) return null;
        _anyEntry = true;
        return _writer.Write(in _block, in _modes, _scanner.Line);
    }

    /// <summary>The text stops within a line though it should go on: the digits at its very end may be cut.</summary>
    private Fault CutOff()
    {
        var reason = _opened
            ? "the file opened with % and stops here without a closing %: the dump is cut off"
            : "the text stops here within a line and NULs follow: the dump is cut off";
        if (_lastWordEnd != _text.Bytes.Length)
            return CutBlock(new Fault(_scanner.Line, _scanner.Column, reason));
        _block.RemoveLast();
        return CutBlock(new Fault(_scanner.Line, _lastWordColumn, reason));
    }

    /// <summary>
    /// Keeps the words of a block before the fault, where they say by themselves what they set: the block's own G10, L
    /// and P stand before it. A block that goes on with an earlier G10 does not: the G or M word that it may have had
    /// behind the fault would make it a move.
    /// </summary>
    private Fault CutBlock(Fault fault)
    {
        if (IsLastWordBroken()) _block.RemoveLast();
        if (_block.HasG10 && _block.Has('L') && _block.Has('P')) _ = WriteBlock();
        return fault;
    }

    // What touches the last number and is no word of its own belongs to it: "1.2.3" is not 1.2, nor is "1e" 1.
    private readonly bool IsLastWordBroken()
    {
        if (_lastWordEnd >= _text.Bytes.Length) return false;
        var next = _text.Bytes[_lastWordEnd];
        var isWord = (next & 0xDF) is >= 'A' and <= 'Z' and not 'E';
        return !isWord && next is not ((byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n' or (byte)'(' or (byte)';');
    }

    private Fault NotClosed() => new(_scanner.Line, _scanner.Column,
        "the file opened with % and ends here without a closing %: the dump is cut off");

    private Fault? Nothing() => _anyEntry
        ? null
        : new Fault(0, 0, "no data setting was found; blocks such as G10 L2 P1 X-310.2 were expected");
}
