using System.Globalization;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Readings;

/// <summary>Which parameter number holds what: a machine's own map, then the table published with RS274/NGC.</summary>
public static class ParameterTable
{
    // RS274/NGC 3.2.1, table 2: X Y Z A B C of G92, then of the nine coordinate systems, twenty numbers apart.
    private const int G92First = 5211;
    private const int SystemFirst = 5221;
    private const int SystemStep = 20;
    private const int SystemCount = 9;
    private const int AxisCount = 6;

    /// <summary>The offset that a number holds; false where none of the maps says.</summary>
    public static bool TryFind(MachineConfig machine, int number, out OffsetKey key)
    {
        var maps = machine.Parameters;
        for (var index = 0; index < maps.Count; index++)
            if (maps[index].Is is null && TryFind(maps[index], number, out key)) return true;
        return TryPublished(number, out key);
    }

    /// <summary>What a number is configured to be beside an offset ("measured size"); null for none.</summary>
    public static string? Measured(MachineConfig machine, int number)
    {
        var maps = machine.Parameters;
        for (var index = 0; index < maps.Count; index++)
            if (maps[index].Is is not null && maps[index].First == number) return NameOf(machine, maps[index]);
        return null;
    }

    private static bool TryFind(ParameterMap map, int number, out OffsetKey key)
    {
        key = default;
        if (number < map.First || map.Step < 1) return false;
        var (index, place) = Math.DivRem(number - map.First, map.Step);
        if (map.Of is { } part)
        {
            if (place != 0 || index >= map.Tools.Count) return false;
            key = OffsetKey.OfTool(map.Tools[index], part);
            return true;
        }
        if (place >= map.Axes.Count || index >= map.Registers.Count) return false;
        key = OffsetKey.Datum(map.Registers[index], map.Axes[place]);
        return true;
    }

    private static bool TryPublished(int number, out OffsetKey key)
    {
        key = default;
        if (number is < G92First or > SystemFirst + SystemStep * SystemCount) return false;
        var (index, place) = Math.DivRem(number - SystemFirst, SystemStep);
        if (number is >= G92First and < G92First + AxisCount)
            key = OffsetKey.Datum(Register.G92, Axis.X + (number - G92First));
        else if (number >= SystemFirst && index < SystemCount && place < AxisCount)
            key = OffsetKey.Datum(Register.System(index + 1), Axis.X + place);
        else return false;
        return true;
    }

    // Two numbers of one meaning are two features: each then carries its number.
    private static string NameOf(MachineConfig machine, ParameterMap map)
    {
        foreach (var other in machine.Parameters)
            if (!ReferenceEquals(other, map) && string.Equals(other.Is, map.Is, StringComparison.OrdinalIgnoreCase))
                return string.Create(CultureInfo.InvariantCulture, $"{map.Is} #{map.First}");
        return map.Is ?? "";
    }
}
