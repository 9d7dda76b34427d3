using System.Globalization;
using SetupAudit.Datums;

namespace SetupAudit.Shop.Configuration;

/// <summary>Reads ranges of registers ("G54.1 P1..P48", "G54..G59") and of tools ("1..12", "1..12, 20").</summary>
internal static class NumberRanges
{
    // A control holds some hundreds of tools; ten thousand is beyond all of them and still small in memory.
    private const int CountMost = 10_000;

    public static TypedShape<IReadOnlyList<Register>> Registers { get; } =
        new("registers, such as G54..G59 or G54.1 P1..P48", ReadRegisters);

    public static TypedShape<IReadOnlyList<int>> Tools { get; } =
        new("tool numbers, such as 1..12 or 1..12, 20", ReadTools);

    private static bool ReadRegisters(ConfigNode node, out IReadOnlyList<Register> value)
    {
        var registers = new List<Register>();
        value = registers;
        if (node.Kind != ConfigKind.Text) return false;
        foreach (var part in node.Text.Split(','))
        {
            var (first, last) = Ends(part);
            if (!Register.TryParse(first, out var low)) return false;
            // "G54.1 P1..P48" leaves out what both ends share.
            if (!Register.TryParse(last.StartsWith('P') ? "G54.1" + last : last, out var high)) return false;
            if (!AddRegisters(registers, low, high)) return false;
        }
        return true;
    }

    private static bool AddRegisters(List<Register> registers, Register low, Register high)
    {
        if (low.Number > high.Number || registers.Count > CountMost) return false;
        if (low != high && !(IsSystem(low) && IsSystem(high)) && !(IsExtended(low) && IsExtended(high))) return false;
        for (var number = low.Number; number <= high.Number; number++)
        {
            var register = low == high ? low
                : IsSystem(low) ? Register.System(number)
                : Register.Extended(number - Register.Extended(1).Number + 1);
            if (registers.Contains(register)) return false;
            registers.Add(register);
        }
        return true;
    }

    private static bool IsSystem(Register register) => register.Number is >= 1 and <= 9;

    private static bool IsExtended(Register register) => register >= Register.Extended(1);

    private static bool ReadTools(ConfigNode node, out IReadOnlyList<int> value)
    {
        var tools = new List<int>();
        value = tools;
        if (node.Kind is not (ConfigKind.Text or ConfigKind.Number)) return false;
        foreach (var part in node.Text.Split(','))
        {
            var (first, last) = Ends(part);
            if (!TryTool(first, out var low) || !TryTool(last, out var high) || low > high) return false;
            if (high - low >= CountMost || tools.Count > CountMost) return false;
            tools.AddRange(Enumerable.Range(low, high - low + 1));
        }
        return tools.Distinct().Count() == tools.Count;
    }

    private static bool TryTool(string text, out int tool) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out tool) && tool <= OffsetKey.ToolMost;

    private static (string First, string Last) Ends(string part)
    {
        var dots = part.IndexOf("..", StringComparison.Ordinal);
        return dots < 0 ? (part.Trim(), part.Trim()) : (part[..dots].Trim(), part[(dots + 2)..].Trim());
    }
}
