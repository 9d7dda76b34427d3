using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Reads delimited text with a header: a column an axis, or rows of register, axis and value; tools the same way.
/// Values are in the machine's unit and never count increments: spreadsheets drop points and trailing zeros. A cell
/// that cannot be read is a fault and its neighbours still count, for each row stands by itself; where the rows
/// themselves can no longer be told apart (broken quotes, a wrong number of fields) reading stops.
/// </summary>
internal ref struct TableReader
{
    private const int FaultsMost = 100;

    private readonly PlainText _text;
    private readonly MachineConfig _machine;
    private readonly TableHeader _header;
    private readonly TableNumbers _numbers;
    private readonly TableField[] _cells;
    private readonly List<OffsetReading> _offsets;
    private readonly List<Fault> _faults;
    private readonly SeenValues _seen;
    private TableScanner _scanner;
    private bool _anyRow;

    private TableReader(PlainText text, MachineConfig machine, WatchConfig watch)
    {
        // A cell is seldom shorter than this; a hostile size reserves no more than a first list.
        const int cellBytes = 10, mostReserved = 4096;
        _offsets = new List<OffsetReading>(Math.Min(text.Bytes.Length / cellBytes, mostReserved));
        _seen = new SeenValues(_offsets);
        _text = text;
        _machine = machine;
        _header = TableHeader.Read(text.Bytes, watch, out _scanner);
        _numbers = new TableNumbers(_scanner.Separator);
        _cells = new TableField[_header.Columns.Length];
        _faults = [.. _header.Faults(watch)];
    }

    public static DumpResult Read(PlainText text, MachineConfig machine, WatchConfig watch)
    {
        var reader = new TableReader(text, machine, watch);
        reader.ReadAll();
        return new DumpResult(reader._offsets, [], reader._faults);
    }

    private void ReadAll()
    {
        if (_scanner.Broken is { } broke)
        {
            Fail(_scanner.Field, broke);
            return;
        }
        if (Unusable() is { } reason)
        {
            _faults.Add(new Fault(0, 0, reason));
            return;
        }
        while (ReadRow(out var count))
        {
            if (IsBlank(count)) continue;
            _anyRow = true;
            if (count != _cells.Length)
                Fail(_cells[0], Text($"the row has {Fields(count)}, and the header has {_cells.Length}"));
            else if (_scanner.EndsText && _text.EndsInNuls)
                Fail(_cells[0], "the text stops within this row and NULs follow: the table is cut off");
            else if (_offsets.Count > DumpReader.ReadingsMost) Fail(_cells[0], DumpReader.TooMany);
            else if (_faults.Count < FaultsMost)
            {
                TakeRow();
                continue;
            }
            else Fail(_cells[0], Text($"{FaultsMost} cells could not be read; reading stops here"));
            return;
        }
        if (_scanner.Broken is { } broken) Fail(_scanner.Field, broken);
        else if (!_anyRow) _faults.Add(new Fault(0, 0, "the table has a header and no rows"));
    }

    private readonly string? Unusable() =>
        _header.Columns.Length == 0 ? "the file holds no text; a table with a header was expected"
        : _header.Columns.Length > TableHeader.ColumnsMost
            ? Text($"the header has more than {TableHeader.ColumnsMost} columns")
        : _faults.Count > 0 && _header.Known == 0 ? "none of the table's headings is known"
        : !_header.NamesRows ? "no column is headed Register or Tool, so the rows cannot be told apart"
        : !_header.HasValues ? "no column of the table holds values; X, Y, Z, Length or Value were expected"
        : null;

    /// <summary>Reads a row, at most one field more than there are columns: such a row is wrong anyway.</summary>
    private bool ReadRow(out int count)
    {
        count = 0;
        while (_scanner.Read())
        {
            if (count < _cells.Length) _cells[count] = _scanner.Field;
            count++;
            if (_scanner.EndsRecord || count > _cells.Length) return true;
        }
        return false;
    }

    private readonly string Fields(int count) => count > _cells.Length ? "more fields" : Text($"{count} fields");

    private readonly bool IsBlank(int count)
    {
        if (count > _cells.Length) return false;
        for (var index = 0; index < count; index++)
            if (!IsEmpty(index)) return false;
        return true;
    }

    private void TakeRow()
    {
        var hasRegister = !IsEmpty(_header.Register);
        var hasTool = !IsEmpty(_header.Tool);
        if (hasRegister == hasTool)
            Fail(_cells[0], hasTool ? "the row names a register and a tool" : "the row names no register and no tool");
        else if (hasRegister) TakeRegister(_cells[_header.Register]);
        else TakeTool(_cells[_header.Tool]);
    }

    private void TakeRegister(TableField cell)
    {
        if (!TryRegister(cell, out var register))
        {
            Fail(cell, Text($"{Shown(cell)} is no register's name; G54 or another was expected"));
            return;
        }
        for (var index = 0; index < _cells.Length; index++)
            if (_header.Columns[index]?.Axis is { } axis) Take(index, OffsetKey.Datum(register, axis));
        if (IsEmpty(_header.Value)) return;
        if (!IsEmpty(_header.Axis) && TryAxis(_cells[_header.Axis], out var named))
            Take(_header.Value, OffsetKey.Datum(register, named));
        else Fail(_cells[_header.Value], "the row gives a value of a register and does not say of which axis");
    }

    private readonly bool TryRegister(TableField cell, out Register register)
    {
        const int longest = 16;
        Span<char> name = stackalloc char[longest];
        if (System.Text.Ascii.ToUtf16(_scanner.Trimmed(cell), name, out var length)
            == System.Buffers.OperationStatus.Done && Register.TryParse(name[..length], out register)) return true;
        return _machine.TryParseRegister(_scanner.Text(cell), out register);
    }

    private void TakeTool(TableField cell)
    {
        var name = _scanner.Trimmed(cell);
        if (name is [(byte)'T' or (byte)'t', ..]) name = name[1..];
        if (NumberText.ParseWithExponent(name, out var number) != NumberScan.Number
            || !number.TryWhole(out var tool) || tool is < 0 or > OffsetKey.ToolMost)
        {
            Fail(cell, Text($"{Shown(cell)} is no tool's number; 0 to {OffsetKey.ToolMost} were expected"));
            return;
        }
        for (var index = 0; index < _cells.Length; index++)
            if (_header.Columns[index] is { Part: { } part } column && (column.Axis is null || _machine.IsLathe))
                Take(index, OffsetKey.OfTool(tool, part));
        if (IsEmpty(_header.Value)) return;
        // "Of" says which part of the tool; a table that has no such column says it where registers have their axis.
        var of = _header.Of >= 0 ? _header.Of : _header.Axis;
        if (!IsEmpty(of) && ToolPartName.TryParse(_scanner.Text(_cells[of]).Trim().Replace(' ', '-'), out var named))
            Take(_header.Value, OffsetKey.OfTool(tool, named));
        else Fail(_cells[_header.Value], "the row gives a value of a tool and does not say of which part");
    }

    /// <summary>Takes the value of a cell; an empty cell says nothing.</summary>
    private void Take(int index, OffsetKey key)
    {
        if (IsEmpty(index)) return;
        var cell = _cells[index];
        if (!_numbers.TryRead(_scanner.Trimmed(cell), out var number, out var reason))
            Fail(cell, Text($"{Shown(cell)} stands for {key}: {reason}"));
        else if (key is { IsTool: true, Part: ToolPart.Tip } && !number.TryWhole(out _))
            Fail(cell, Text($"{Shown(cell)} stands for {key}: a whole number was expected"));
        else if (_seen.Contradicts(key, number.Value))
            Fail(cell, Text($"{key} stands in the table before, with another value"));
        else _offsets.Add(new OffsetReading(cell.Line, cell.Column, key, number.Value, ReadingHow.Stands));
    }

    private readonly bool TryAxis(TableField cell, out Axis axis)
    {
        axis = default;
        var name = _scanner.Trimmed(cell);
        return name.Length == 1 && char.IsAsciiLetter((char)name[0])
            && Enum.TryParse(((char)name[0]).ToString(), ignoreCase: true, out axis);
    }

    private readonly bool IsEmpty(int index) => index < 0 || _scanner.Trimmed(_cells[index]).IsEmpty;

    private readonly void Fail(TableField cell, string reason) =>
        _faults.Add(new Fault(cell.Line, cell.Column, reason));

    /// <summary>A cell for a sentence: short, on one line.</summary>
    private readonly string Shown(TableField cell)
    {
        const int longest = 24;
        var text = _scanner.Text(cell).Trim();
        if (text.Length > longest) text = text[..longest] + "...";
        return $"\"{string.Concat(text.Select(letter => char.IsControl(letter) ? ' ' : letter))}\"";
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
