using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>Which configured limit holds for an offset, and whether a change is beyond it.</summary>
internal static class LimitMatch
{
    /// <summary>The first limit that matches machine and offset; null where none does.</summary>
    public static LimitConfig? Of(ShopConfig shop, MachineConfig machine, OffsetKey key) =>
        shop.Limits.FirstOrDefault(limit => Glob.Matches(limit.Machine, machine.Name) && Matches(limit, key));

    /// <summary>Strictly beyond; where the units differ both are compared in millimetres, which is exact.</summary>
    public static bool IsBeyond(this LimitConfig limit, decimal moved, OffsetKey key, MachineConfig machine)
    {
        var unit = limit.UnitOn(key, machine);
        var own = key.UnitOn(machine.Units);
        return unit == own
            ? Math.Abs(moved) > limit.Change
            : Length.Convert(Math.Abs(moved), own, Unit.Millimetre)
                > Length.Convert(limit.Change, unit, Unit.Millimetre);
    }

    /// <summary>The unit the limit is written in: the machine's own, or degrees, where it names none.</summary>
    public static Unit UnitOn(this LimitConfig limit, OffsetKey key, MachineConfig machine) =>
        limit.Unit ?? key.UnitOn(machine.Units);

    private static bool Matches(LimitConfig limit, OffsetKey key)
    {
        if (key.IsTool)
            return limit.Tool is { } tool && Glob.Matches(tool, Words.Number(key.Tool))
                && Glob.Matches(limit.Of, ToolPartName.Of(key.Part), ignoreCase: true);
        // A length says nothing about degrees.
        if (!key.IsLinear && limit.Unit is not null) return false;
        var register = limit.Register ?? (limit.Tool is null ? "*" : null);
        return register is not null && Glob.Matches(register, key.Register.ToString(), ignoreCase: true)
            && Glob.Matches(limit.Axis, key.Axis.ToString(), ignoreCase: true);
    }
}
