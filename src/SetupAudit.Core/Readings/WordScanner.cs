using System.Buffers;
using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Takes a text of ISO 6983 / RS-274 blocks apart, token by token, without allocating. Does not throw, and looks at
/// each byte a bounded number of times. A large file may be given piece by piece, cut behind line ends.
/// </summary>
public ref struct WordScanner
{
    /// <summary>RS274/NGC allows 256 characters (3.3); a line longer than this is no block of any control.</summary>
    public const int LineMostBytes = 65_536;

    private static readonly SearchValues<byte> CommentEnds = SearchValues.Create("()\r\n"u8);
    private static readonly SearchValues<byte> LineEnds = SearchValues.Create("\r\n"u8);

    private readonly ReadOnlySpan<byte> _text;
    private int _position;
    private int _lineStart;
    private int _valueStart;
    private int _valueEnd;
    private int _targetStart;
    private int _targetEnd;
    private bool _lineEnded;
    private bool _lineSkipped;

    public WordScanner(ReadOnlySpan<byte> text, int firstLine = 1)
    {
        _text = text;
        Line = firstLine;
    }

    public WordKind Kind { get; private set; }

    /// <summary>Of a word: its letter in upper case; ':' where a colon stands for the program letter.</summary>
    public char Letter { get; private set; }

    /// <summary>Of a word: it stands behind a comma (",R2." rounds a corner; it is no R of the block).</summary>
    public bool AfterComma { get; private set; }

    /// <summary>
    /// Of a word, setting or keyword: whether the value is a plain number, which is then <see cref="Number"/>.
    /// </summary>
    public bool IsNumber { get; private set; }

    public NumberText Number { get; private set; }

    /// <summary>The value as written; of a comment its text; empty where a keyword has none.</summary>
    public readonly ReadOnlySpan<byte> Value => _text[_valueStart.._valueEnd];

    /// <summary>Of a setting: what stands between # and =; of a keyword: its letters as written.</summary>
    public readonly ReadOnlySpan<byte> Target => _text[_targetStart.._targetEnd];

    /// <summary>Of a fault: what was found and what was expected.</summary>
    public string? Reason { get; private set; }

    /// <summary>Line of the token, from the first line given.</summary>
    public int Line { get; private set; }

    /// <summary>Where the token begins in its line, from 1, in bytes.</summary>
    public readonly int Column => Start - _lineStart + 1;

    /// <summary>Where the token begins in the text, from 0, in bytes.</summary>
    public int Start { get; private set; }

    /// <summary>Just behind the token, in bytes from the text's beginning.</summary>
    public readonly int End => _position;

    /// <summary>Of an end of line: the text stops here without one.</summary>
    public bool LineEndMissing { get; private set; }

    /// <summary>Goes to the next token; false at the end of the text.</summary>
    public bool Read()
    {
        unchecked
        {
            if (_lineEnded) BeginLine();
            var text = _text;
            var at = _position;
            while (at < text.Length && text[at] is (byte)' ' or (byte)'\t') at++;
            _position = at;
            Start = at;
            AfterComma = false;
            if (at - _lineStart > LineMostBytes && !_lineSkipped) return LineTooLong();
            if (at >= text.Length) return EndText();
            var letter = text[at];
            var upper = (byte)(letter & 0xDF);
            if (upper is >= (byte)'A' and <= (byte)'Z') return ReadWord((char)upper);
            return ReadMark(letter);
        }
    }

    /// <summary>
    /// Passes over the rest of the line, so that the next token is its end. A fault does so by itself.
    /// </summary>
    public void SkipLine()
    {
        if (_lineEnded) return;
        var ends = _text[_position..].IndexOfAny(LineEnds);
        _position = ends < 0 ? _text.Length : _position + ends;
        _lineSkipped = true;
    }

    private void BeginLine()
    {
        _lineEnded = false;
        _lineSkipped = false;
        _lineStart = _position;
        Line++;
    }

    private bool EndText()
    {
        Kind = WordKind.EndOfLine;
        LineEndMissing = true;
        // A text that ends behind a line end has no further line; one that ends without gives its last line an end.
        if (_lineStart == _position) return false;
        _lineEnded = true;
        return true;
    }

    private bool ReadMark(byte letter)
    {
        switch (letter)
        {
            case (byte)'\r' or (byte)'\n':
                return EndLine(letter);
            case (byte)'(':
                return ReadComment();
            case (byte)';':
                return ReadLineComment();
            case (byte)'%':
                return Mark(WordKind.Percent);
            case (byte)'/':
                return Mark(WordKind.BlockDelete);
            case (byte)'#':
                return ReadSetting();
            case (byte)':':
                return ReadWord(':');
            case (byte)',':
                return ReadCommaWord();
            default:
                return Fault(_position, $"{Shown(_position)} stands where a word such as X-12.5 was expected");
        }
    }

    private bool EndLine(byte letter)
    {
        _position++;
        if (letter == '\r' && _position < _text.Length && _text[_position] == '\n') _position++;
        _lineEnded = true;
        LineEndMissing = false;
        Kind = WordKind.EndOfLine;
        return true;
    }

    private bool Mark(WordKind kind)
    {
        _position++;
        Kind = kind;
        // "/2" is the second of several block delete switches: common practice, no source.
        var isNumbered = _position < _text.Length && _text[_position] is >= (byte)'1' and <= (byte)'9';
        if (kind == WordKind.BlockDelete && isNumbered) _position++;
        return true;
    }

    private bool ReadComment()
    {
        _valueStart = _position + 1;
        var ends = _text[_valueStart..].IndexOfAny(CommentEnds);
        if (ends < 0 || _text[_valueStart + ends] is (byte)'\r' or (byte)'\n')
            return Fault(_position, "a comment opens here and is not closed on its line");
        if (_text[_valueStart + ends] == '(')
            return Fault(_valueStart + ends, "a parenthesis opens inside a comment; comments do not nest");
        _valueEnd = _valueStart + ends;
        _position = _valueEnd + 1;
        Kind = WordKind.Comment;
        return true;
    }

    private bool ReadLineComment()
    {
        _valueStart = _position + 1;
        var ends = _text[_valueStart..].IndexOfAny(LineEnds);
        _position = _valueEnd = ends < 0 ? _text.Length : _valueStart + ends;
        Kind = WordKind.Comment;
        return true;
    }

    private bool ReadCommaWord()
    {
        var at = _position + 1;
        while (at < _text.Length && _text[at] is (byte)' ' or (byte)'\t') at++;
        if (at >= _text.Length || (_text[at] & 0xDF) is < 'A' or > 'Z')
            return Fault(_position, "a comma stands here without a word behind it");
        _position = at;
        AfterComma = true;
        return ReadWord((char)(_text[at] & 0xDF));
    }

    private bool ReadWord(char letter)
    {
        unchecked
        {
            var text = _text;
            var at = _position + 1;
            while (at < text.Length && text[at] is (byte)' ' or (byte)'\t') at++;
            _valueStart = at;
            Kind = WordKind.Word;
            Letter = letter;
            var found = NumberText.Scan(text, ref at, out var number);
            if (found == NumberScan.Number)
            {
                Number = number;
                IsNumber = true;
                _position = _valueEnd = at;
                return true;
            }
            return found == NumberScan.TooLong
                ? Fault(_valueStart, $"the number of {letter} has more than {NumberText.DigitsMost} digits")
                : ReadOtherValue(letter);
        }
    }

    private bool ReadOtherValue(char letter)
    {
        if (WordValue.TryKeyword(_text, _position, out var letters)) return ReadKeyword(letters);
        var at = _valueStart;
        if (!WordValue.TrySkip(_text, ref at, out var reason))
            return Fault(at, reason ?? $"{letter} has no number: {Shown(at)} stands where one was expected");
        IsNumber = false;
        _position = _valueEnd = at;
        return true;
    }

    private bool ReadKeyword(int letters)
    {
        Kind = WordKind.Keyword;
        _targetStart = _position;
        _targetEnd = _position + letters;
        var at = _targetEnd;
        while (at < _text.Length && _text[at] is (byte)' ' or (byte)'\t') at++;
        if (!WordValue.KeywordTakesValue(Target))
        {
            _valueStart = _valueEnd = _position = _targetEnd;
            IsNumber = false;
            return true;
        }
        return ReadValueAt(at, "a value was expected behind this word");
    }

    private bool ReadSetting()
    {
        var at = _position + 1;
        _targetStart = at;
        if (!WordValue.TrySkip(_text, ref at, out var reason))
            return Fault(at, reason ?? $"{Shown(at)} stands where the number of a parameter was expected");
        _targetEnd = at;
        while (at < _text.Length && _text[at] is (byte)' ' or (byte)'\t') at++;
        if (at >= _text.Length || _text[at] != '=')
            return Fault(at, $"{Shown(at)} stands where = was expected behind a parameter");
        at++;
        while (at < _text.Length && _text[at] is (byte)' ' or (byte)'\t') at++;
        Kind = WordKind.Setting;
        return ReadValueAt(at, "a value was expected behind =");
    }

    private bool ReadValueAt(int at, string missing)
    {
        _valueStart = at;
        // A sum without brackets (#1 = #2 + 1) is common practice, no source; RS274/NGC wants [#2 + 1].
        if (!WordValue.TrySkipSum(_text, ref at, out var reason)) return Fault(at, reason ?? missing);
        _position = _valueEnd = at;
        IsNumber = NumberText.TryParse(Value, out var number);
        Number = number;
        return true;
    }

    private bool LineTooLong() =>
        Fault(_lineStart + LineMostBytes, $"the line is longer than {LineMostBytes} bytes, which no block is");

    private bool Fault(int position, string reason)
    {
        Kind = WordKind.Fault;
        Start = position;
        Reason = reason;
        IsNumber = false;
        _valueStart = _valueEnd = _targetStart = _targetEnd = 0;
        _position = Math.Max(position, _position);
        // Nothing is guessed behind what is wrong, and no byte is looked at again: the scan stays linear.
        SkipLine();
        return true;
    }

    private readonly string Shown(int position) => WordValue.Shown(_text, position);
}
