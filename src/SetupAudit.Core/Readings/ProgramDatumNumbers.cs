using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Which parameter numbers hold datums, for programs that reckon a number instead of writing it.</summary>
internal static class ProgramDatumNumbers
{
    // The bases that programs reckon from: the numbers below 5221 are common practice (no source), 5386 is the last
    // that
    // RS274/NGC publishes.
    private const int BaseFirst = 5200;
    private const int BaseLast = 5386;
    private const int G92First = 5211;

    /// <summary>
    /// Whether a number written in the text is one that holds a datum, or from which such numbers are reckoned, as in
    /// #[5201 + #24 * 20]: what is set is then likely a datum, and not known which.
    /// </summary>
    public static bool NamesOne(MachineConfig machine, ReadOnlySpan<byte> text)
    {
        var number = 0;
        foreach (var character in text)
        {
            var isDigit = character is >= (byte)'0' and <= (byte)'9';
            if (!isDigit && IsOne(machine, number)) return true;
            number = !isDigit || number > ExpressionParameters.NumberMost ? 0 : number * 10 + (character - '0');
        }
        return IsOne(machine, number);
    }

    /// <summary>The published number of a datum: RS274/NGC 3.2.1, table 2.</summary>
    public static bool TryNumber(OffsetKey key, out int number)
    {
        const int step = 20;
        number = 0;
        if (key.IsTool || key.Axis > Axis.C) return false;
        if (key.Register.IsG92) number = G92First + (int)key.Axis;
        else if (key.Register.Number is >= 1 and <= 9 and var system)
            number = BaseFirst + system * step + 1 + (int)key.Axis;
        return number > 0;
    }

    private static bool IsOne(MachineConfig machine, int number)
    {
        if (number is >= BaseFirst and <= BaseLast) return true;
        foreach (var map in machine.Parameters)
        {
            var first = Math.Max(1, (long)map.First - map.Step);
            var end = map.First + (long)map.Registers.Count * map.Step;
            if (map.Registers.Count > 0 && number >= first && number < end) return true;
        }
        return false;
    }
}
