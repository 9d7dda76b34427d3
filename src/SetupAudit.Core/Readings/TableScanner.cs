using System.Text;
using System.Text.Unicode;

namespace SetupAudit.Readings;

/// <summary>Takes delimited text apart field by field, quoted as RFC 4180 says; CR, LF or both end a record.</summary>
internal ref struct TableScanner(ReadOnlySpan<byte> text, byte separator)
{
    /// <summary>A field longer than this is none of a table of offsets.</summary>
    public const int FieldMostBytes = 4096;

    private readonly ReadOnlySpan<byte> _text = text;
    private readonly byte _separator = separator;
    private int _position;
    private int _lineStart;
    private int _start;
    private int _length;
    private int _line = 1;
    private bool _fieldFollows;

    public readonly byte Separator => _separator;

    /// <summary>The field found last.</summary>
    public TableField Field { get; private set; }

    /// <summary>The record ends behind the field.</summary>
    public bool EndsRecord { get; private set; }

    /// <summary>The text stops behind the field without a line end.</summary>
    public bool EndsText { get; private set; }

    /// <summary>What broke the table here; nothing can be told apart behind it.</summary>
    public string? Broken { get; private set; }

    /// <summary>Goes to the next field; false at the end of the text, and where the table is broken.</summary>
    public bool Read()
    {
        if (Broken is not null || (_position >= _text.Length && !_fieldFollows)) return false;
        var (line, column) = (_line, _position - _lineStart + 1);
        var isQuoted = _position < _text.Length && _text[_position] == '"';
        if (isQuoted) ReadQuoted();
        else ReadPlain();
        Field = new TableField(_start, _length, isQuoted, line, column);
        if (Broken is not null) return false;
        EndField();
        return true;
    }

    /// <summary>The bytes of a field, without its quotes; quotes inside are still doubled.</summary>
    public readonly ReadOnlySpan<byte> Bytes(TableField field) => _text.Slice(field.Start, field.Length);

    /// <summary>The bytes of a field without blanks around them.</summary>
    public readonly ReadOnlySpan<byte> Trimmed(TableField field)
    {
        var bytes = Bytes(field);
        return bytes.Length == 0 || (bytes[0] > ' ' && bytes[^1] > ' ') ? bytes : bytes.Trim(" \t"u8);
    }

    /// <summary>A field as text: UTF-8, or the Latin letters of older programs where it is not.</summary>
    public readonly string Text(TableField field)
    {
        var bytes = Bytes(field);
        var text = (Utf8.IsValid(bytes) ? Encoding.UTF8 : Encoding.Latin1).GetString(bytes);
        return field.IsQuoted ? text.Replace("\"\"", "\"", StringComparison.Ordinal) : text;
    }

    private void ReadPlain()
    {
        // What is longer is refused, so no more is looked at.
        var rest = _text.Slice(_position, Math.Min(_text.Length - _position, FieldMostBytes + 1));
        var end = rest.IndexOfAny([_separator, (byte)'\r', (byte)'\n', (byte)'"']);
        if (end < 0) end = rest.Length;
        _start = _position;
        _length = end;
        if (end < rest.Length && rest[end] == '"')
            Broken = "a quotation mark stands inside a field that is not quoted";
        if (end > FieldMostBytes) Broken = TooLong;
        _position += end;
    }

    private void ReadQuoted()
    {
        _start = _position + 1;
        var at = _start;
        while (true)
        {
            var quote = _text[at..].IndexOf((byte)'"');
            if (quote < 0) Broken = "a quotation mark opens this field and none closes it";
            else if (at + quote - _start > FieldMostBytes) Broken = TooLong;
            if (Broken is not null) return;
            at += quote + 1;
            if (at >= _text.Length || _text[at] != '"') break;
            at++;
        }
        _length = at - 1 - _start;
        CountLines(_start, at);
        _position = at;
        if (at < _text.Length && _text[at] != _separator && _text[at] is not ((byte)'\r' or (byte)'\n'))
            Broken = "text stands behind the closing quotation mark of this field";
    }

    private static string TooLong => $"the field is longer than {FieldMostBytes} bytes, which none of offsets is";

    private void CountLines(int from, int to)
    {
        for (var at = from; at < to; at++)
        {
            if (_text[at] is not ((byte)'\r' or (byte)'\n')) continue;
            if (_text[at] == '\r' && at + 1 < to && _text[at + 1] == '\n') at++;
            _line++;
            _lineStart = at + 1;
        }
    }

    private void EndField()
    {
        _fieldFollows = _position < _text.Length && _text[_position] == _separator;
        EndsRecord = !_fieldFollows;
        EndsText = _position >= _text.Length;
        if (EndsText) return;
        var isPair = _text[_position] == '\r' && _position + 1 < _text.Length && _text[_position + 1] == '\n';
        _position += isPair ? 2 : 1;
        if (_fieldFollows) return;
        _line++;
        _lineStart = _position;
    }
}
