using SetupAudit.Units;

namespace SetupAudit.Readings;

/// <summary>
/// Reads the numbers of a table's cells. A comma is a decimal comma where it does not separate fields; but a table that
/// writes both points and commas in numbers may mean thousands by one of them, so the second kind met is refused.
/// </summary>
internal sealed class TableNumbers(byte separator)
{
    private const int LongestBytes = 40;

    private byte? _mark;

    /// <summary>The number of a cell that is not empty; else why it is none.</summary>
    public bool TryRead(ReadOnlySpan<byte> cell, out NumberText number, out string? reason)
    {
        number = default;
        reason = "a number was expected";
        var at = cell.IndexOfAny((byte)',', (byte)'.');
        var mark = at < 0 ? (byte)0 : cell[at];
        if (mark == ',' && separator == ',')
        {
            reason = "the comma in this number may mean thousands or a decimal point; a point was expected";
            return false;
        }
        var found = mark == ',' ? ParseComma(cell, at, out number) : NumberText.ParseWithExponent(cell, out number);
        if (found == NumberScan.None) return false;
        reason = "the number is beyond any machine";
        if (found == NumberScan.TooLong || !number.FitsMachine) return false;
        return mark == 0 || IsMark(mark, out reason);
    }

    private static NumberScan ParseComma(ReadOnlySpan<byte> cell, int comma, out NumberText number)
    {
        number = default;
        if (cell.Length > LongestBytes) return NumberScan.None;
        Span<byte> plain = stackalloc byte[LongestBytes];
        cell.CopyTo(plain);
        plain[comma] = (byte)'.';
        return NumberText.ParseWithExponent(plain[..cell.Length], out number);
    }

    private bool IsMark(byte mark, out string? reason)
    {
        _mark ??= mark;
        reason = _mark == mark
            ? null
            : "numbers of this table have points and commas, and one of the two may mean thousands";
        return reason is null;
    }
}
