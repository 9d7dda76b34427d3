namespace SetupAudit.Units;

/// <summary>A number as a file writes it: sign, digits and point, kept so that no digit is lost.</summary>
public readonly record struct NumberText
{
    /// <summary>More significant digits than any control writes; a longer number is refused.</summary>
    public const int DigitsMost = 18;

    private const long MostBeforeLastDigit = 99_999_999_999_999_999;

    private readonly long _digits;
    private readonly byte _scale;
    private readonly bool _negative;

    private NumberText(long digits, byte scale, bool negative, bool hasPoint)
    {
        _digits = digits;
        _scale = scale;
        _negative = negative;
        HasPoint = hasPoint;
    }

    /// <summary>Whether a decimal point was written: a control may count a number without one in increments.</summary>
    public bool HasPoint { get; }

    /// <summary>The value with as many places as were written: "-310.2000" stays -310.2000.</summary>
    public decimal Value => unchecked(new decimal(
        (int)_digits, (int)(_digits >> 32), 0, _negative && _digits != 0, _scale));

    /// <summary>
    /// The value of a number that counts increments where it has no point: "12345" by 0.001 is 12.345.
    /// </summary>
    public decimal Counted(decimal increment) => HasPoint ? Value : Value * increment;

    /// <summary>The number as an integer: "54", "54." and "+54.0" are, "54.1" and "99999999999" are not.</summary>
    public bool TryWhole(out int whole)
    {
        var digits = _digits;
        for (var place = 0; place < _scale && digits % 10 == 0; place++) digits /= 10;
        var isWhole = digits <= int.MaxValue && (_scale == 0 || _digits == digits * Power(_scale));
        whole = !isWhole ? 0 : _negative ? -(int)digits : (int)digits;
        return isWhole;
    }

    /// <summary>
    /// Reads a text that is one number and nothing else; blanks may stand around and inside it. Does not throw.
    /// </summary>
    public static bool TryParse(ReadOnlySpan<byte> text, out NumberText number)
    {
        var position = 0;
        while (position < text.Length && IsBlank(text[position])) position++;
        if (Scan(text, ref position, out number) != NumberScan.Number) return false;
        while (position < text.Length && IsBlank(text[position])) position++;
        return position == text.Length;
    }

    /// <summary>
    /// Reads the number that begins at <paramref name="position"/> and moves the position behind its last character.
    /// Blanks inside the number mean nothing (RS274/NGC 3.3). Where there is none the position stays on what is wrong.
    /// </summary>
    public static NumberScan Scan(ReadOnlySpan<byte> text, ref int position, out NumberText number)
    {
        unchecked
        {
            var at = position;
            var negative = false;
            if (at < text.Length && text[at] is (byte)'-' or (byte)'+')
            {
                negative = text[at] == (byte)'-';
                at++;
            }
            var digits = 0L;
            var count = 0;
            var pointAt = -1;
            var end = at;
            var tooLong = false;
            for (; at < text.Length; at++)
            {
                var letter = text[at];
                var digit = (uint)(letter - '0');
                if (digit <= 9)
                {
                    tooLong |= digits > MostBeforeLastDigit;
                    digits = digits * 10 + digit;
                    count++;
                }
                else if (letter == '.' && pointAt < 0) pointAt = count;
                else if (IsBlank(letter)) continue;
                else break;
                end = at + 1;
            }
            position = count == 0 ? at : end;
            var scale = pointAt < 0 ? 0 : count - pointAt;
            tooLong |= scale > DigitsMost;
            number = count == 0 || tooLong ? default : new NumberText(digits, (byte)scale, negative, pointAt >= 0);
            return count == 0 ? NumberScan.None : tooLong ? NumberScan.TooLong : NumberScan.Number;
        }
    }

    private static bool IsBlank(byte letter) => letter is (byte)' ' or (byte)'\t';

    private static long Power(int places)
    {
        var power = 1L;
        for (var place = 0; place < places; place++) power *= 10;
        return power;
    }
}
