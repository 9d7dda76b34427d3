using System.Buffers;

namespace SetupAudit.Readings;

/// <summary>Goes through a text line by line: CR, LF or both end a line.</summary>
internal ref struct TextLines(ReadOnlySpan<byte> text)
{
    private static readonly SearchValues<byte> LineEnds = SearchValues.Create("\r\n"u8);

    private readonly ReadOnlySpan<byte> _text = text;
    private int _next;

    /// <summary>The line without its end.</summary>
    public ReadOnlySpan<byte> Current { get; private set; }

    /// <summary>Number of the line, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>The text stops within this line.</summary>
    public bool EndMissing { get; private set; }

    public bool Read()
    {
        if (_next >= _text.Length) return false;
        var rest = _text[_next..];
        var length = rest.IndexOfAny(LineEnds);
        EndMissing = length < 0;
        if (EndMissing) length = rest.Length;
        Current = rest[..length];
        Number++;
        _next += length;
        if (EndMissing) return true;
        var isPair = rest[length] == '\r' && length + 1 < rest.Length && rest[length + 1] == '\n';
        _next += isPair ? 2 : 1;
        return true;
    }
}
