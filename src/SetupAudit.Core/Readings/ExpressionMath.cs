using System.Globalization;

namespace SetupAudit.Readings;

/// <summary>
/// The operations and functions of RS274/NGC (3.3.2.3). Exact in decimals where that is possible; angles are in
/// degrees. A null operand is a value that the program does not give, and makes the result one.
/// </summary>
internal static class ExpressionMath
{
    /// <summary>Beyond this no result is a coordinate, and decimals would run out soon.</summary>
    private const double ValueMost = 1e18;

    private const double DegreesPerHalfTurn = 180;
    private const int PlacesMost = 12;
    private const int ExactPowerMost = 64;

    /// <summary>
    /// Works out <paramref name="left"/> operator <paramref name="right"/>; a reason where that cannot be done.
    /// </summary>
    public static string? Apply(ExpressionOperator what, decimal? left, decimal? right, out decimal? result)
    {
        result = null;
        if (right == 0m && what == ExpressionOperator.Divide) return "this divides by zero";
        if (right == 0m && what == ExpressionOperator.Remainder) return "MOD divides by zero here";
        if (left is not { } a || right is not { } b) return null;
        if (Reaches(what, (double)a, (double)b)) return TooLarge;
        switch (what)
        {
            case ExpressionOperator.Power:
                return Power(a, b, out result);
            case ExpressionOperator.Remainder:
                // The remainder is never negative, whatever the signs.
                var remainder = a % b;
                result = remainder < 0 ? remainder + Math.Abs(b) : remainder;
                return null;
            default:
                result = Simple(what, a, b);
                return null;
        }
    }

    /// <summary>Works out a function of one value; a reason where it has none there.</summary>
    public static string? Apply(ExpressionFunction what, decimal? argument, out decimal? result)
    {
        result = null;
        if (argument is not { } value) return null;
        switch (what)
        {
            case ExpressionFunction.Abs:
                result = Math.Abs(value);
                return null;
            case ExpressionFunction.Fix:
                result = Math.Floor(value);
                return null;
            case ExpressionFunction.Fup:
                result = Math.Ceiling(value);
                return null;
            case ExpressionFunction.Round:
                result = Math.Round(value, MidpointRounding.AwayFromZero);
                return null;
            case ExpressionFunction.Asin or ExpressionFunction.Acos when Math.Abs(value) > 1:
                return Sentence($"an arc sine or cosine is asked of {value}, which lies beyond 1");
            case ExpressionFunction.Sqrt when value < 0:
                return Sentence($"a square root is asked of {value}, which is negative");
            case ExpressionFunction.Ln when value <= 0:
                return Sentence($"a logarithm is asked of {value}, which is not positive");
            default:
                return Exact(Curve(what, (double)value), out result);
        }
    }

    /// <summary>ATAN[y]/[x]: the angle in all four quarters.</summary>
    public static string? ArcTangent(decimal? y, decimal? x, out decimal? result)
    {
        result = null;
        return y is { } up && x is { } along
            ? Exact(double.Atan2Pi((double)up, (double)along) * DegreesPerHalfTurn, out result)
            : null;
    }

    /// <summary>
    /// What was worked out may carry more places than a control has; what a program wrote keeps its digits.
    /// </summary>
    public static decimal? Rounded(decimal? value) => value is { Scale: > PlacesMost } finer
        ? decimal.Round(finer, PlacesMost) / 1.0000000000000000000000000000m
        : value;

    private const string TooLarge = "the result is larger than 10^18";

    private static bool Reaches(ExpressionOperator what, double a, double b) => what switch
    {
        ExpressionOperator.Multiply => Math.Abs(a * b) > ValueMost,
        ExpressionOperator.Divide => Math.Abs(a / b) > ValueMost,
        ExpressionOperator.Add or ExpressionOperator.Subtract => Math.Abs(a) + Math.Abs(b) > ValueMost,
        _ => false,
    };

    private static decimal Simple(ExpressionOperator what, decimal a, decimal b) => what switch
    {
        ExpressionOperator.Multiply => a * b,
        ExpressionOperator.Divide => a / b,
        ExpressionOperator.Add => a + b,
        ExpressionOperator.Subtract => a - b,
        ExpressionOperator.Or => Truth(a != 0 || b != 0),
        ExpressionOperator.And => Truth(a != 0 && b != 0),
        ExpressionOperator.ExclusiveOr => Truth(a != 0 != (b != 0)),
        ExpressionOperator.Equal => Truth(a == b),
        ExpressionOperator.NotEqual => Truth(a != b),
        ExpressionOperator.Greater => Truth(a > b),
        ExpressionOperator.GreaterOrEqual => Truth(a >= b),
        ExpressionOperator.Less => Truth(a < b),
        ExpressionOperator.LessOrEqual => Truth(a <= b),
        _ => throw new ArgumentOutOfRangeException(nameof(what), what, "has a method of its own"),
    };

    private static decimal Truth(bool holds) => holds ? 1 : 0;

    // Whole powers are worked out exactly, so that 2 ** 3.0 is 8 and not nearly 8.
    private static string? Power(decimal a, decimal b, out decimal? result)
    {
        result = null;
        var power = Math.Pow((double)a, (double)b);
        if (double.IsNaN(power)) return Sentence($"{a} ** {b} has no value");
        if (!(Math.Abs(power) <= ValueMost)) return TooLarge;
        if (b != Math.Truncate(b) || Math.Abs(b) > ExactPowerMost || a == 0) return Exact(power, out result);
        var product = 1m;
        for (var turn = 0; turn < Math.Abs(b); turn++)
        {
            // A negative power may pass through a product that a decimal cannot hold; the double is then near enough.
            if (Math.Abs((double)product * (double)a) > ValueMost) return Exact(power, out result);
            product *= a;
        }
        if (b < 0 && product == 0) return Exact(power, out result);
        result = b < 0 ? 1 / product : product;
        return null;
    }

    private static double Curve(ExpressionFunction what, double value) => what switch
    {
        ExpressionFunction.Sin => double.SinPi(value / DegreesPerHalfTurn),
        ExpressionFunction.Cos => double.CosPi(value / DegreesPerHalfTurn),
        ExpressionFunction.Tan => double.TanPi(value / DegreesPerHalfTurn),
        ExpressionFunction.Asin => double.AsinPi(value) * DegreesPerHalfTurn,
        ExpressionFunction.Acos => double.AcosPi(value) * DegreesPerHalfTurn,
        ExpressionFunction.Exp => Math.Exp(value),
        ExpressionFunction.Ln => Math.Log(value),
        ExpressionFunction.Sqrt => Math.Sqrt(value),
        _ => throw new ArgumentOutOfRangeException(nameof(what), what, "is no curve"),
    };

    // The cast keeps 15 digits, which takes off the last bits that two mathematics libraries may not agree on.
    private static string? Exact(double value, out decimal? result)
    {
        result = Math.Abs(value) <= ValueMost ? (decimal)value : null;
        return result is null ? TooLarge : null;
    }

    private static string Sentence(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
