namespace SetupAudit.Units;

/// <summary>
/// Turns lengths from one unit into another by the exact inch of 25.4 mm, and gives units their short names.
/// </summary>
public static class Length
{
    /// <summary>The inch, exact since the international yard of 1959 (NIST SP 811).</summary>
    public const decimal MillimetresPerInch = 25.4m;

    // 1/25.4 has no finite decimal; ten places are finer than any control resolves.
    private const int InchPlaces = 10;

    /// <summary>The value in another unit. Inch to mm is exact; mm to inch is rounded to ten places.</summary>
    public static decimal Convert(decimal value, Unit from, Unit to) => (from, to) switch
    {
        (Unit.Inch, Unit.Millimetre) => value * MillimetresPerInch,
        (Unit.Millimetre, Unit.Inch) => Trim(decimal.Round(value / MillimetresPerInch, InchPlaces)),
        _ => value,
    };

    /// <summary>The short name a reader expects beside a number: mm, inch, deg.</summary>
    public static string ShortName(Unit unit) => unit switch
    {
        Unit.Millimetre => "mm",
        Unit.Inch => "inch",
        _ => "deg",
    };

    // Division leaves trailing zeros up to the place rounded to; dividing by one with 28 zeros takes them off.
    private static decimal Trim(decimal value) => value / 1.0000000000000000000000000000m;
}
