using System.Globalization;

namespace SetupAudit.Datums;

/// <summary>
/// Where a control keeps a datum: G54 ... G59.3, G54.1 Pn, the common offset that adds to all, or G92.
/// </summary>
public readonly record struct Register : IComparable<Register>
{
    private const int G92Number = 92;
    private const int ExtendedBase = 1000;
    public const int ExtendedMost = 999;

    private Register(int number) => Number = number;

    /// <summary>
    /// 0 common; 1..9 G54..G59.3; 92 G92; 1000 + n for G54.1 Pn. Its order is the order people list them in.
    /// </summary>
    public int Number { get; }

    public static Register Common { get; } = new(0);

    public static Register G92 { get; } = new(G92Number);

    public bool IsCommon => Number == 0;

    public bool IsG92 => Number == G92Number;

    /// <summary>System n of RS274/NGC: 1..6 is G54..G59, 7..9 is G59.1..G59.3.</summary>
    public static Register System(int number) => number is >= 1 and <= 9
        ? new Register(number)
        : throw new ArgumentOutOfRangeException(nameof(number), number, "work offsets are numbered 1 to 9");

    /// <summary>The extended register that G54.1 Pn selects, n from 1 to 999.</summary>
    public static Register Extended(int number) => number is >= 1 and <= ExtendedMost
        ? new Register(ExtendedBase + number)
        : throw new ArgumentOutOfRangeException(nameof(number), number, "extended registers are P1 to P999");

    /// <summary>Reads "G54", "g59.1", "G54.1 P7", "G54.1P7", "COMMON" and "G92"; any case.</summary>
    public static bool TryParse(string? text, out Register register) => TryParse(text.AsSpan(), out register);

    /// <summary>As the other, without allocating.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out Register register)
    {
        register = default;
        const int longest = 12;
        Span<char> name = stackalloc char[longest];
        var length = 0;
        foreach (var letter in text)
        {
            if (letter == ' ') continue;
            if (length == longest) return false;
            name[length++] = char.ToUpperInvariant(letter);
        }
        return TryParseName(name[..length], out register);
    }

    private static bool TryParseName(ReadOnlySpan<char> name, out Register register)
    {
        register = default;
        if (name is "COMMON") return true;
        if (name is "G92") return Is(G92, out register);
        if (name.StartsWith("G54.1P", StringComparison.Ordinal))
            return int.TryParse(name[6..], NumberStyles.None, CultureInfo.InvariantCulture, out var extended)
                && extended is >= 1 and <= ExtendedMost && Is(Extended(extended), out register);
        if (name is ['G', '5', >= '4' and <= '9']) return Is(System(name[2] - '3'), out register);
        return name is ['G', '5', '9', '.', >= '1' and <= '3'] && Is(System(6 + name[4] - '0'), out register);
    }

    public int CompareTo(Register other) => Number.CompareTo(other.Number);

    public override string ToString() => Number switch
    {
        0 => "COMMON",
        >= 1 and <= 6 => "G5" + (char)('3' + Number),
        >= 7 and <= 9 => "G59." + (char)('0' + Number - 6),
        G92Number => "G92",
        _ => string.Create(CultureInfo.InvariantCulture, $"G54.1 P{Number - ExtendedBase}"),
    };

    private static bool Is(Register value, out Register register)
    {
        register = value;
        return true;
    }

    public static bool operator <(Register left, Register right) => left.CompareTo(right) < 0;

    public static bool operator >(Register left, Register right) => left.CompareTo(right) > 0;

    public static bool operator <=(Register left, Register right) => left.CompareTo(right) <= 0;

    public static bool operator >=(Register left, Register right) => left.CompareTo(right) >= 0;
}
