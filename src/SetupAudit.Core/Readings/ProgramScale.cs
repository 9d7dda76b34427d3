namespace SetupAudit.Readings;

/// <summary>
/// Positions while a program is read: whole numbers of a billionth of the machine's unit or of a degree, so that a move
/// costs an addition. Finer than any control resolves; what is stored is worked out in decimals.
/// </summary>
internal static class ProgramScale
{
    public const long PerUnit = 1_000_000_000;

    /// <summary>A position beyond this is unknown; two of them can still be added.</summary>
    public const long Most = 4_000_000_000_000_000_000;

    private const int Places = 9;

    /// <summary>Null where the value is not known, or too large to be a position.</summary>
    public static long? Of(decimal? value) => value is { } known && Math.Abs(known) <= Most / PerUnit
        ? (long)decimal.Round(known * PerUnit)
        : null;

    /// <summary>The sum; null where a part is not known, or where it is too large to be a position.</summary>
    public static long? Sum(long? left, long? right) =>
        left + right is { } sum and >= -Most and <= Most ? sum : null;

    public static decimal Value(long scaled)
    {
        var size = Math.Abs(scaled);
        var value = new decimal(unchecked((int)size), (int)(size >> 32), 0, scaled < 0, Places);
        // Takes the zeros off that nobody wrote.
        return value / 1.0000000000000000000000000000m;
    }
}
