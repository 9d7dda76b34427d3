using System.Runtime.CompilerServices;

namespace SetupAudit.Readings;

/// <summary>
/// Takes the commonest line of a long program apart at speed: a move in plain numbers, such as "N380 G1 X.3219
/// Z-.0207".
/// Whatever has anything else in it is left to <see cref="ProgramBlockReader"/>, so that both say the same.
/// </summary>
internal sealed class ProgramPlainLine
{
    /// <summary>A longer line is not plain.</summary>
    public const int LineMostBytes = 256;

    private const int WholeDigitsMost = 8;
    private const int PlacesMost = 9;

    private static readonly long[] Tens =
        [1_000_000_000, 100_000_000, 10_000_000, 1_000_000, 100_000, 10_000, 1_000, 100, 10, 1];

    private readonly byte[] _kinds = new byte[256];

    // Below Centre stand the axes themselves.
    private const byte Centre = 16;
    private const byte LabelLetter = 17;
    private const byte Code = 18;
    private const byte PassedOver = 19;
    private const byte Blank = 20;
    private const byte End = 21;
    private const byte Other = 22;

    public ProgramPlainLine(bool isLathe)
    {
        Array.Fill(_kinds, Other);
        // U, V and W add to other axes on a lathe.
        var axes = isLathe ? (ReadOnlySpan<byte>)"XYZABC"u8 : "XYZABCUVW"u8;
        for (var axis = 0; axis < axes.Length; axis++) _kinds[axes[axis]] = (byte)axis;
        foreach (var letter in "IJK"u8) _kinds[letter] = Centre;
        foreach (var letter in "FSR"u8) _kinds[letter] = PassedOver;
        _kinds['N'] = LabelLetter;
        _kinds['G'] = Code;
        _kinds[' '] = Blank;
        _kinds['\n'] = _kinds['\r'] = End;
    }

    /// <summary>What a length or an angle without a point counts, by <see cref="ProgramScale"/>.</summary>
    public long LinearIncrement { get; set; }

    public long AngularIncrement { get; set; }

    /// <summary>0 to 3 where the line has G0 to G3; else -1.</summary>
    public int Motion { get; private set; }

    /// <summary>The axes it names, as bits.</summary>
    public int Axes { get; private set; }

    /// <summary>It gives the centre of an arc.</summary>
    public bool HasCentre { get; private set; }

    /// <summary>The N number; -1 where there is none.</summary>
    public int Label { get; private set; }

    /// <summary>By axis: what its word says, by <see cref="ProgramScale"/> in the unit in force.</summary>
    public long[] Values { get; } = new long[ProgramAxes.Count];

    /// <summary>
    /// Reads the line that begins the text, and copies it without blanks and line number. Gives how many bytes it has
    /// up to its end, and how many were copied; false where it is not plain, or does not end in the text.
    /// </summary>
    public bool TryRead(ReadOnlySpan<byte> text, Span<byte> stripped, out int length, out int kept)
    {
        if (text.Length > LineMostBytes) text = text[..LineMostBytes];
        (length, kept) = (0, 0);
        (Motion, Axes, HasCentre, Label) = (-1, 0, false, -1);
        var kinds = _kinds;
        var copied = 0;
        for (var at = 0; at < text.Length;)
        {
            var kind = kinds[text[at]];
            if (kind < Blank)
            {
                var isFirst = kept == 0 && at == copied;
                at++;
                if (!TryNumber(text, ref at, out var digits, out var places)) return false;
                if (kind < Centre)
                {
                    if ((Axes & (1 << kind)) != 0) return false;
                    Axes |= 1 << kind;
                    Values[kind] = places >= 0 ? digits * Tens[places] : Counted(kind, digits);
                }
                else if (kind != PassedOver && !Take(kind, digits, places, isFirst)) return false;
                if (kind == LabelLetter) copied = at;
                continue;
            }
            if (kind == Other) return false;
            text[copied..at].CopyTo(stripped[kept..]);
            kept += at - copied;
            length = at;
            if (kind == End) return true;
            copied = ++at;
        }
        return false;
    }

    private long Counted(int axis, long digits) =>
        digits * (ProgramAxes.IsLinear(axis) ? LinearIncrement : AngularIncrement);

    private bool Take(byte kind, long digits, int places, bool isFirst)
    {
        switch (kind)
        {
            case Code:
                if (Motion >= 0 || places > 0 || digits is < 0 or > 3) return false;
                Motion = (int)digits;
                return true;
            case LabelLetter:
                if (!isFirst || Label >= 0 || places >= 0 || digits < 0) return false;
                Label = (int)digits;
                return true;
            default:
                HasCentre = true;
                return true;
        }
    }

    /// <summary>
    /// Reads a number; its places are -1 where it has no point. False where it is none, or a long one.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryNumber(ReadOnlySpan<byte> text, ref int position, out long digits, out int places)
    {
        unchecked
        {
            var at = position;
            var isNegative = at < text.Length && text[at] == '-';
            if (isNegative) at++;
            var first = at;
            var value = 0L;
            uint digit;
            for (; at < text.Length && (digit = (uint)(text[at] - '0')) <= 9; at++) value = value * 10 + digit;
            var whole = at - first;
            places = -1;
            if (at < text.Length && text[at] == '.')
            {
                first = ++at;
                for (; at < text.Length && (digit = (uint)(text[at] - '0')) <= 9; at++) value = value * 10 + digit;
                places = at - first;
            }
            digits = isNegative ? -value : value;
            position = at;
            return whole <= WholeDigitsMost && places <= PlacesMost && whole + Math.Max(places, 0) > 0;
        }
    }
}
