using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>What one line of a parameter dump says: a number and its value, or nothing that counts.</summary>
internal readonly record struct ParameterLine(ParameterLineKind Kind, int Column)
{
    private const long TooHigh = int.MaxValue;

    /// <summary>The number the line begins with; 0 where it begins with none.</summary>
    public int Number { get; private init; }

    /// <summary>The value; null where the dump says that the parameter holds none, or where it is too long.</summary>
    public NumberText? Value { get; private init; }

    /// <summary>The value is a number of more digits than any offset has.</summary>
    public bool IsTooLong { get; private init; }

    /// <summary>Just behind the value, in bytes from the line's beginning.</summary>
    public int End { get; private init; }

    /// <summary>What was expected, where the line is wrong.</summary>
    public string? Reason { get; private init; }

    /// <summary>Takes apart "5221 -310.2", "#5221 = -310.2", "N5221 -310.2"; what stands behind is a comment.</summary>
    public static ParameterLine Of(ReadOnlySpan<byte> line)
    {
        var at = SkipBlanks(line, 0);
        if (at == line.Length) return new ParameterLine(ParameterLineKind.Blank, 1);
        if (line[at] == '%') return new ParameterLine(ParameterLineKind.Percent, at + 1);
        var digits = line[at] is (byte)'#' or (byte)'N' or (byte)'n' ? SkipBlanks(line, at + 1) : at;
        var end = digits;
        var number = 0L;
        for (; end < line.Length && IsDigit(line[end]); end++)
            number = Math.Min(number * 10 + line[end] - '0', TooHigh);
        var next = SkipBlanks(line, end);
        var isAssigned = next < line.Length && line[next] == '=';
        var isSeparated = isAssigned || next > end || next == line.Length;
        if (end == digits || !isSeparated)
            return new ParameterLine(OtherKind(line, at), at + 1) { Number = (int)number };
        if (number == TooHigh) return Wrong(digits, "no control numbers its parameters so high");
        if (isAssigned) next = SkipBlanks(line, next + 1);
        if (next < line.Length) return Valued(line, (int)number, next);
        return isAssigned ? Empty((int)number, next, next) : Wrong(next, "the value of the parameter is missing");
    }

    private static ParameterLine Valued(ReadOnlySpan<byte> line, int number, int at)
    {
        // "#0" is the parameter that never holds a value: common practice, no source.
        if (line[at..] is [(byte)'#', (byte)'0', ..] && IsValueEnd(line, at + 2)) return Empty(number, at, at + 2);
        var end = at;
        while (end < line.Length && IsNumeric(line[end])) end++;
        var found = NumberText.ParseWithExponent(line[at..end], out var value);
        if (found == NumberScan.None || !IsValueEnd(line, end))
            return Wrong(at, "a plain number was expected as the value of the parameter");
        return new ParameterLine(ParameterLineKind.Value, at + 1)
        {
            Number = number,
            Value = found == NumberScan.Number ? value : null,
            IsTooLong = found == NumberScan.TooLong,
            End = end,
        };
    }

    private static bool IsDigit(byte letter) => letter is >= (byte)'0' and <= (byte)'9';

    private static bool IsNumeric(byte letter) =>
        IsDigit(letter) || letter is (byte)'+' or (byte)'-' or (byte)'.' or (byte)'e' or (byte)'E';

    private static bool IsValueEnd(ReadOnlySpan<byte> line, int at) =>
        at >= line.Length || line[at] is (byte)' ' or (byte)'\t' or (byte)'(' or (byte)';';

    /// <summary>Tells comments and the words of a framing program, which may stand anywhere, from other text.</summary>
    private static ParameterLineKind OtherKind(ReadOnlySpan<byte> line, int at)
    {
        if (line[at] is (byte)'(' or (byte)';') return ParameterLineKind.Comment;
        var isFrame = (line[at] & 0xDF) is 'O' or 'M' or 'G' || line[at] == ':';
        return isFrame && at + 1 < line.Length && IsDigit(line[at + 1])
            ? ParameterLineKind.Comment
            : ParameterLineKind.Other;
    }

    private static ParameterLine Empty(int number, int at, int end) =>
        new(ParameterLineKind.Value, at + 1) { Number = number, End = end };

    private static ParameterLine Wrong(int at, string reason) =>
        new(ParameterLineKind.Wrong, at + 1) { Reason = reason };

    private static int SkipBlanks(ReadOnlySpan<byte> line, int at)
    {
        while (at < line.Length && line[at] is (byte)' ' or (byte)'\t') at++;
        return at;
    }
}
