using System.Buffers;
using System.Numerics;
using System.Text;

namespace SetupAudit.Readings;

/// <summary>
/// Turns the bytes of a program, as they come, into text a reader can read: narrow, without mark, parity and filler.
/// What <see cref="PlainText"/> does to a whole file; here the head of the file decides, in whatever pieces it comes.
/// </summary>
internal sealed class ProgramBytes
{
    /// <summary>How much is looked at to tell wide characters and parity.</summary>
    public const int HeadBytes = 4096;

    // What serial captures leave between characters: NUL, end of text and transmission, device controls, the old end
    // of file, rub-out.
    private static readonly SearchValues<byte> Filler =
        SearchValues.Create([0x00, 0x03, 0x04, 0x11, 0x12, 0x13, 0x14, 0x1A, 0x7F]);

    private readonly byte[] _head = new byte[HeadBytes];
    private int _headLength;
    private byte[] _clean = [];
    private Form _form;
    private int _half = -1;
    private char _high;

    private enum Form
    {
        Undecided,
        Plain,
        EvenParity,
        LittleEndian,
        BigEndian,
    }

    /// <summary>
    /// Takes what is still wanted of the head off the front of a piece; gives the head's text once it is whole.
    /// </summary>
    public ReadOnlySpan<byte> TakeHead(ref ReadOnlySpan<byte> piece)
    {
        if (_form != Form.Undecided) return [];
        var taken = Math.Min(HeadBytes - _headLength, piece.Length);
        piece[..taken].CopyTo(_head.AsSpan(_headLength));
        _headLength += taken;
        piece = piece[taken..];
        return _headLength == HeadBytes ? Decide() : [];
    }

    /// <summary>At the end of the file: the head's text, where the file was no longer than that.</summary>
    public ReadOnlySpan<byte> End() => _form == Form.Undecided ? Decide() : [];

    /// <summary>The text of a piece behind the head; it holds until the next call.</summary>
    public ReadOnlySpan<byte> Decode(ReadOnlySpan<byte> piece)
    {
        if (_form is Form.LittleEndian or Form.BigEndian) piece = Narrow(piece);
        return _form == Form.EvenParity || piece.ContainsAny(Filler) ? Clean(piece) : piece;
    }

    private ReadOnlySpan<byte> Decide()
    {
        ReadOnlySpan<byte> head = _head.AsSpan(0, _headLength);
        _form = FormOf(head);
        if (head is [0xEF, 0xBB, 0xBF, ..]) head = head[3..];
        else if (head is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..]) head = head[2..];
        return Decode(head);
    }

    private static Form FormOf(ReadOnlySpan<byte> head)
    {
        if (head is [0xFF, 0xFE, ..]) return Form.LittleEndian;
        if (head is [0xFE, 0xFF, ..]) return Form.BigEndian;
        int evenNuls = 0, oddNuls = 0, high = 0, odd = 0;
        for (var at = 0; at < head.Length; at++)
        {
            if (head[at] == 0) _ = (at & 1) == 0 ? evenNuls++ : oddNuls++;
            high += head[at] >> 7;
            odd += BitOperations.PopCount(head[at]) & 1;
        }
        // Without a mark: nearly every second byte of a wide text is NUL, and none of the others are.
        var most = head.Length / 2 * 9 / 10;
        if (head.Length >= 4 && oddNuls > most && evenNuls == 0) return Form.LittleEndian;
        if (head.Length >= 4 && evenNuls > most && oddNuls == 0) return Form.BigEndian;
        return high > 0 && odd == 0 ? Form.EvenParity : Form.Plain;
    }

    private ReadOnlySpan<byte> Clean(ReadOnlySpan<byte> piece)
    {
        if (_clean.Length < piece.Length) _clean = new byte[piece.Length];
        var mask = _form == Form.EvenParity ? 0x7F : 0xFF;
        var length = 0;
        foreach (var code in piece)
        {
            var character = (byte)(code & mask);
            if (!Filler.Contains(character)) _clean[length++] = character;
        }
        return _clean.AsSpan(0, length);
    }

    // A last byte without its partner waits for the next piece; at the end of the file it is the cut, and no character.
    private ReadOnlySpan<byte> Narrow(ReadOnlySpan<byte> piece)
    {
        const int mostPerUnit = 4;
        var most = (piece.Length / 2 + 1) * mostPerUnit;
        if (_clean.Length < most) _clean = new byte[most];
        var length = 0;
        foreach (var code in piece)
        {
            if (_half < 0)
            {
                _half = code;
                continue;
            }
            var unit = (char)(_form == Form.LittleEndian ? (code << 8) | _half : (_half << 8) | code);
            _half = -1;
            length += Write(unit, _clean.AsSpan(length));
        }
        return _clean.AsSpan(0, length);
    }

    private int Write(char unit, Span<byte> to)
    {
        if (char.IsHighSurrogate(unit))
        {
            _high = unit;
            return 0;
        }
        var whole = char.IsLowSurrogate(unit) && _high != 0 ? new Rune(_high, unit)
            : char.IsSurrogate(unit) ? Rune.ReplacementChar
            : new Rune(unit);
        _high = '\0';
        return whole.EncodeToUtf8(to);
    }
}
