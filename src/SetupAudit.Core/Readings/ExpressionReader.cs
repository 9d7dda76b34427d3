using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Works out a value as RS274/NGC writes them (3.3.2): a number, a parameter, an expression in brackets, a function.
/// What rests on a parameter that the program does not give comes out as null. Does not throw.
/// </summary>
internal ref struct ExpressionReader
{
    /// <summary>Deeper than any program nests; it keeps hostile text off the stack.</summary>
    public const int DepthMost = 64;

    /// <summary>A parameter's number may be off a whole number by this much (RS274/NGC 3.3.2.1).</summary>
    private const decimal WholeWithin = 0.0001m;

    private const int LowestLevel = 3;

    private readonly ReadOnlySpan<byte> _text;
    private readonly ExpressionParameters _parameters;
    private int _depth;

    public ExpressionReader(ReadOnlySpan<byte> text, ExpressionParameters parameters)
    {
        _text = text;
        _parameters = parameters;
    }

    /// <summary>
    /// Where reading stands, in bytes from the text's beginning; behind a fault, where it went wrong.
    /// </summary>
    public int Position { get; private set; }

    /// <summary>Why the text is no value; null where it is one.</summary>
    public string? Reason { get; private set; }

    /// <summary>Works out the whole text, operators without brackets around them included.</summary>
    public decimal? ReadAll()
    {
        var value = Expression(LowestLevel);
        if (Reason is null) SkipBlanks();
        if (Reason is null && Position < _text.Length)
            Fail($"{WordValue.Shown(_text, Position)} stands behind a value");
        return Reason is null ? value : null;
    }

    /// <summary>Works out the number of a parameter, what stands between # and =; null where it is not known.</summary>
    public int? ReadNumber()
    {
        var value = ReadAll();
        return Reason is null ? WholeNumber(value) : null;
    }

    private decimal? Expression(int level)
    {
        var left = level == 0 ? Value() : Expression(level - 1);
        while (Reason is null && TryOperator(level, out var what))
        {
            SkipBlanks();
            var at = Position;
            var right = level == 0 ? Value() : Expression(level - 1);
            if (Reason is not null) return null;
            if (ExpressionMath.Apply(what, left, right, out left) is { } reason) FailAt(at, reason);
        }
        return left;
    }

    private decimal? Value()
    {
        SkipBlanks();
        var isNegative = Peek() == '-';
        if (isNegative || Peek() == '+')
        {
            Position++;
            SkipBlanks();
            if (Peek() is '-' or '+') return Fail("two signs follow each other");
        }
        var value = Peek() switch
        {
            '#' => Parameter(),
            '[' => Brackets(),
            '.' or (>= '0' and <= '9') => Number(),
            _ when IsLetter(Peek()) => Function(),
            _ => Fail($"{WordValue.Shown(_text, Position)} stands where a value was expected"),
        };
        // RS274/NGC gives a sign to numbers only; -#1 and -[...] are common practice (no source).
        return isNegative ? -value : value;
    }

    private decimal? Number()
    {
        var position = Position;
        var found = NumberText.Scan(_text, ref position, out var number);
        Position = position;
        return found switch
        {
            NumberScan.Number => number.Value,
            NumberScan.TooLong => Fail($"a number of more than {NumberText.DigitsMost} digits stands here"),
            _ => Fail("a point stands here without a digit"),
        };
    }

    private decimal? Parameter()
    {
        var at = Position++;
        if (Deeper()) return null;
        SkipBlanks();
        if (Peek() == '<') return Named();
        var number = WholeNumber(Value());
        _depth--;
        if (Reason is not null) return null;
        if (number is not { } known)
        {
            _parameters.NoteUnknownRead();
            return null;
        }
        return known is >= 0 and <= ExpressionParameters.NumberMost
            ? _parameters.Read(known)
            : FailAt(at, $"parameters are numbered up to {ExpressionParameters.NumberMost}");
    }

    // Named parameters are a dialect; they are passed over and have no known value.
    private decimal? Named()
    {
        _depth--;
        var length = _text[Position..].IndexOf((byte)'>');
        if (length < 0) return Fail("a name opens with < here and is not closed");
        Position += length + 1;
        _parameters.NoteUnknownRead();
        return null;
    }

    private decimal? Brackets()
    {
        var opened = Position++;
        if (Deeper()) return null;
        var value = Expression(LowestLevel);
        _depth--;
        if (Reason is not null) return null;
        SkipBlanks();
        if (Peek() != ']')
            return Position < _text.Length
                ? Fail($"{WordValue.Shown(_text, Position)} stands where ] was expected")
                : FailAt(opened, "a bracket opens here and is not closed on its line");
        Position++;
        return value;
    }

    private decimal? Function()
    {
        var at = Position;
        var word = Letters();
        Position += word.Length;
        if (ExpressionNames.IsArcTangent(word)) return ArcTangent();
        var isUnknown = ExpressionNames.IsUnknownFunction(word);
        if (!ExpressionNames.TryFunction(word, out var what) && !isUnknown)
            return FailAt(at, $"{WordValue.Shown(_text, at)} begins no function");
        SkipBlanks();
        if (Peek() != '[') return Fail("a function stands here without [");
        if (isUnknown) return SkipArguments();
        var argument = Brackets();
        if (Reason is not null) return null;
        return ExpressionMath.Apply(what, argument, out var result) is { } reason ? FailAt(at, reason) : result;
    }

    // RS274/NGC writes ATAN[y]/[x]; ATAN[y,x] is common practice (no source).
    private decimal? ArcTangent()
    {
        SkipBlanks();
        if (Peek() != '[') return Fail("ATAN stands here without [");
        Position++;
        if (Deeper()) return null;
        var y = Expression(LowestLevel);
        SkipBlanks();
        var hasComma = Peek() == ',';
        if (hasComma) Position++;
        var x = hasComma ? Expression(LowestLevel) : null;
        _depth--;
        SkipBlanks();
        if (Reason is not null) return null;
        if (Peek() != ']') return Fail($"{WordValue.Shown(_text, Position)} stands where ] was expected");
        Position++;
        if (!hasComma)
        {
            SkipBlanks();
            if (Peek() != '/') return Fail("ATAN[y] stands here without /[x]");
            Position++;
            SkipBlanks();
            if (Peek() != '[') return Fail("ATAN[y]/ stands here without [x]");
            x = Brackets();
            if (Reason is not null) return null;
        }
        return ExpressionMath.ArcTangent(y, x, out var result) is { } reason ? Fail(reason) : result;
    }

    // A function that controls work out in their own ways: what it gives is not known.
    private decimal? SkipArguments()
    {
        var length = _text[Position..].IndexOf((byte)']');
        Position = length < 0 ? _text.Length : Position + length + 1;
        _parameters.NoteUnknownRead();
        return null;
    }

    private bool TryOperator(int level, out ExpressionOperator what)
    {
        SkipBlanks();
        var word = Letters();
        what = default;
        if (word.Length > 0)
        {
            if (!ExpressionNames.TryOperator(word, level, out what, out var length)) return false;
            Position += length;
            return true;
        }
        var isPower = Peek() == '*' && Position + 1 < _text.Length && _text[Position + 1] == '*';
        (var found, what) = (level, Peek()) switch
        {
            (0, '*') when isPower => (true, ExpressionOperator.Power),
            (1, '*') when !isPower => (true, ExpressionOperator.Multiply),
            (1, '/') => (true, ExpressionOperator.Divide),
            (2, '+') => (true, ExpressionOperator.Add),
            (2, '-') => (true, ExpressionOperator.Subtract),
            _ => (false, default),
        };
        if (found) Position += isPower ? 2 : 1;
        return found;
    }

    private int? WholeNumber(decimal? value)
    {
        if (Reason is not null || value is not { } known) return null;
        var whole = Math.Round(known);
        if (Math.Abs(known - whole) <= WholeWithin && Math.Abs(whole) <= int.MaxValue) return (int)whole;
        Fail("the number of a parameter is no whole number");
        return null;
    }

    private bool Deeper()
    {
        if (++_depth <= DepthMost) return false;
        Fail($"brackets or parameters nest more than {DepthMost} deep");
        return true;
    }

    private readonly ReadOnlySpan<byte> Letters()
    {
        var end = Position;
        while (end < _text.Length && IsLetter(_text[end]) && end - Position < ExpressionNames.LongestBytes) end++;
        return _text[Position..end];
    }

    private readonly char Peek() => Position < _text.Length ? (char)_text[Position] : '\0';

    private static bool IsLetter(int letter) => (letter & 0xDF) is >= 'A' and <= 'Z';

    private void SkipBlanks()
    {
        while (Position < _text.Length && _text[Position] is (byte)' ' or (byte)'\t') Position++;
    }

    private decimal? Fail(string reason) => FailAt(Position, reason);

    private decimal? FailAt(int position, string reason)
    {
        if (Reason is not null) return null;
        Reason = reason;
        Position = position;
        return null;
    }
}
