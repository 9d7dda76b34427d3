namespace SetupAudit.Readings;

/// <summary>The words that stand for functions and operators in an expression; case means nothing.</summary>
internal static class ExpressionNames
{
    /// <summary>No name is longer; what is longer is none.</summary>
    public const int LongestBytes = 8;

    private const string ArcTangent = "ATAN";

    private static readonly (string Name, ExpressionFunction Function)[] Functions =
    [
        ("ABS", ExpressionFunction.Abs), ("ACOS", ExpressionFunction.Acos), ("ASIN", ExpressionFunction.Asin),
        ("COS", ExpressionFunction.Cos), ("EXP", ExpressionFunction.Exp), ("FIX", ExpressionFunction.Fix),
        ("FUP", ExpressionFunction.Fup), ("LN", ExpressionFunction.Ln), ("ROUND", ExpressionFunction.Round),
        ("SIN", ExpressionFunction.Sin), ("SQRT", ExpressionFunction.Sqrt), ("TAN", ExpressionFunction.Tan),
    ];

    // Level 1 binds like *, level 2 like + (RS274/NGC 3.3.2.3); level 3 is common practice (no source).
    private static readonly (string Name, int Level, ExpressionOperator Operator)[] Operators =
    [
        ("MOD", 1, ExpressionOperator.Remainder), ("OR", 2, ExpressionOperator.Or),
        ("XOR", 2, ExpressionOperator.ExclusiveOr), ("AND", 2, ExpressionOperator.And),
        ("EQ", 3, ExpressionOperator.Equal), ("NE", 3, ExpressionOperator.NotEqual),
        ("GT", 3, ExpressionOperator.Greater), ("GE", 3, ExpressionOperator.GreaterOrEqual),
        ("LT", 3, ExpressionOperator.Less), ("LE", 3, ExpressionOperator.LessOrEqual),
    ];

    // Common practice (no source), and not the same on every control.
    private static readonly string[] Unknown = ["BIN", "BCD", "POW"];

    public static bool IsArcTangent(ReadOnlySpan<byte> word) => Is(word, ArcTangent);

    public static bool IsUnknownFunction(ReadOnlySpan<byte> word)
    {
        foreach (var name in Unknown)
            if (Is(word, name)) return true;
        return false;
    }

    public static bool TryFunction(ReadOnlySpan<byte> word, out ExpressionFunction function)
    {
        foreach (var (name, known) in Functions)
        {
            function = known;
            if (Is(word, name)) return true;
        }
        function = default;
        return false;
    }

    /// <summary>
    /// Whether the letters begin with an operator of that level. Blanks mean nothing, so a function may follow at once:
    /// [#1 MODABS[#2]].
    /// </summary>
    public static bool TryOperator(
        ReadOnlySpan<byte> letters, int level, out ExpressionOperator what, out int length)
    {
        foreach (var (name, binds, known) in Operators)
        {
            (what, length) = (known, name.Length);
            if (binds == level && Begins(letters, name)) return true;
        }
        (what, length) = (default, 0);
        return false;
    }

    private static bool Is(ReadOnlySpan<byte> word, string name) => word.Length == name.Length && Begins(word, name);

    private static bool Begins(ReadOnlySpan<byte> word, string name)
    {
        if (word.Length < name.Length) return false;
        for (var at = 0; at < name.Length; at++)
            if ((word[at] & 0xDF) != name[at]) return false;
        return true;
    }
}
