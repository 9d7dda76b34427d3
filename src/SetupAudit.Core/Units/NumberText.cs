namespace SetupAudit.Units;

/// <summary>A number as a file writes it: sign, digits and point, kept so that no digit is lost.</summary>
public readonly record struct NumberText
{
    /// <summary>As many significant digits as a double is written with, and more than any control writes.</summary>
    public const int DigitsMost = 17;

    private const long MostBeforeLastDigit = 9_999_999_999_999_999;

    // Ten digits before the point: far beyond any machine, and still exact where values are compared as integers.
    private const long MachineMost = 10_000_000_000;

    // One word instead of four fields: a number is copied several times on its way into a reading, and copying fields
    // that were just written one by one stalls the processor.
    private const ulong DigitsMask = (1UL << ScaleShift) - 1;
    private const int ScaleShift = 57;
    private const int ScaleMask = 31;
    private const ulong PointBit = 1UL << 62;
    private const ulong NegativeBit = 1UL << 63;

    private readonly ulong _packed;

    private NumberText(long digits, int scale, bool negative, bool hasPoint) => _packed = unchecked(
        (ulong)digits | ((ulong)scale << ScaleShift) | (hasPoint ? PointBit : 0) | (negative ? NegativeBit : 0));

    /// <summary>Whether a decimal point was written: a control may count a number without one in increments.</summary>
    public bool HasPoint => (_packed & PointBit) != 0;

    /// <summary>The value with as many places as were written: "-310.2000" stays -310.2000.</summary>
    public decimal Value => unchecked(new decimal(
        (int)_packed, (int)((_packed & DigitsMask) >> 32), 0, IsNegative && Digits != 0, (byte)Scale));

    private long Digits => unchecked((long)(_packed & DigitsMask));

    private int Scale => unchecked((int)(_packed >> ScaleShift)) & ScaleMask;

    private bool IsNegative => (_packed & NegativeBit) != 0;

    /// <summary>
    /// The value of a number that counts increments where it has no point: "12345" by 0.001 is 12.345.
    /// </summary>
    public decimal Counted(decimal increment) => HasPoint ? Value : Value * increment;

    /// <summary>Whether the number is small enough to be a length or angle of any machine, in any unit.</summary>
    public bool FitsMachine => Digits < MachineMost || Value is > -MachineMost and < MachineMost;

    /// <summary>The number as an integer: "54", "54." and "+54.0" are, "54.1" and "99999999999" are not.</summary>
    public bool TryWhole(out int whole)
    {
        var digits = Digits;
        var places = Scale;
        for (; places > 0 && digits % 10 == 0; places--) digits /= 10;
        var isWhole = places == 0 && digits <= int.MaxValue;
        whole = !isWhole ? 0 : IsNegative ? -(int)digits : (int)digits;
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
    public static NumberScan Scan(ReadOnlySpan<byte> text, ref int position, out NumberText number) =>
        Scan(text, ref position, blanksInside: true, out number);

    private static NumberScan Scan(ReadOnlySpan<byte> text, ref int position, bool blanksInside, out NumberText number)
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
                else if (blanksInside && IsBlank(letter)) continue;
                else break;
                end = at + 1;
            }
            position = count == 0 ? at : end;
            var scale = pointAt < 0 ? 0 : count - pointAt;
            tooLong |= scale > DigitsMost;
            number = count == 0 || tooLong ? default : new NumberText(digits, scale, negative, pointAt >= 0);
            return count == 0 ? NumberScan.None : tooLong ? NumberScan.TooLong : NumberScan.Number;
        }
    }

    /// <summary>
    /// Reads a text that is one number, perhaps with an exponent as spreadsheets write small ones ("1E-05"), and
    /// nothing else, no blanks either.
    /// </summary>
    public static NumberScan ParseWithExponent(ReadOnlySpan<byte> text, out NumberText number)
    {
        number = default;
        var position = 0;
        var found = Scan(text, ref position, blanksInside: false, out var mantissa);
        if (found == NumberScan.None) return NumberScan.None;
        if (position == text.Length)
        {
            number = mantissa;
            return found;
        }
        if (text[position] is not ((byte)'e' or (byte)'E')) return NumberScan.None;
        position++;
        // Three digits hold every exponent of a double; longer ones are no number of any control.
        const int longest = 4;
        var rest = text[position..];
        if (rest.Length > longest || rest.Contains((byte)'.') || !TryParse(rest, out var exponent))
            return NumberScan.None;
        return found == NumberScan.Number && exponent.TryWhole(out var places) && mantissa.TryMove(places, out number)
            ? NumberScan.Number
            : NumberScan.TooLong;
    }

    private bool TryMove(int places, out NumberText number)
    {
        number = default;
        var digits = Digits;
        var scale = Scale - places;
        for (; scale < 0 && digits != 0; scale++)
        {
            if (digits > MostBeforeLastDigit) return false;
            digits *= 10;
        }
        for (; scale > DigitsMost && digits % 10 == 0 && digits != 0; scale--) digits /= 10;
        if (digits == 0) scale = 0;
        if (scale > DigitsMost) return false;
        number = new NumberText(digits, scale, IsNegative, hasPoint: true);
        return true;
    }

    private static bool IsBlank(byte letter) => letter is (byte)' ' or (byte)'\t';
}
