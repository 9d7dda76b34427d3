using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>Which configured limit holds for an offset, and whether a change or a value is beyond it.</summary>
internal static class LimitMatch
{
    /// <summary>The first limit that matches machine and offset; null where none does.</summary>
    public static LimitConfig? Of(ShopConfig shop, MachineConfig machine, OffsetKey key) =>
        shop.Limits.FirstOrDefault(limit => WhyNot(limit, machine, key) is null);

    /// <summary>Why a limit is not for an offset, in words that go on from "it"; null where it is.</summary>
    public static string? WhyNot(LimitConfig limit, MachineConfig machine, OffsetKey key)
    {
        if (!Glob.Matches(limit.Machine, machine.Name))
            return $"is for machine {limit.Machine}, not {machine.Name}";
        return key.IsTool ? WhyNotTool(limit, key) : WhyNotDatum(limit, key);
    }

    /// <summary>Whether a move, or a sum of moves, is of the way limited and strictly beyond.</summary>
    public static bool IsBeyond(this LimitConfig limit, decimal moved, OffsetKey key, MachineConfig machine) =>
        limit.Change is { } change && limit.Limits(moved) && limit.IsMore(Math.Abs(moved), change, key, machine);

    /// <summary>-1 where the value lies strictly below the bounds, 1 above, 0 within or where there are none.</summary>
    public static int SideOf(this LimitConfig limit, decimal value, OffsetKey key, MachineConfig machine)
    {
        if (limit.Between is not { } bounds) return 0;
        if (limit.IsMore(value, bounds.High, key, machine)) return 1;
        return limit.IsMore(-value, -bounds.Low, key, machine) ? -1 : 0;
    }

    /// <summary>Whether moves of this sign are limited.</summary>
    public static bool Limits(this LimitConfig limit, decimal moved) => limit.Direction switch
    {
        LimitDirection.Up => moved > 0m,
        LimitDirection.Down => moved < 0m,
        _ => true,
    };

    /// <summary>The unit the limit is written in: the machine's own, or degrees, where it names none.</summary>
    public static Unit UnitOn(this LimitConfig limit, OffsetKey key, MachineConfig machine) =>
        limit.Unit ?? key.UnitOn(machine.Units);

    // Where the units differ both are compared in millimetres, which is exact.
    private static bool IsMore(
        this LimitConfig limit, decimal own, decimal limited, OffsetKey key, MachineConfig machine)
    {
        var (unit, ownUnit) = (limit.UnitOn(key, machine), key.UnitOn(machine.Units));
        return unit == ownUnit
            ? own > limited
            : Length.Convert(own, ownUnit, Unit.Millimetre) > Length.Convert(limited, unit, Unit.Millimetre);
    }

    private static string? WhyNotTool(LimitConfig limit, OffsetKey key)
    {
        if (limit.Tool is not { } tool) return "is for registers, not tools";
        if (!Glob.Matches(tool, Words.Number(key.Tool))) return $"is for tool {tool}, not {Words.Number(key.Tool)}";
        if (limit.Unit == Unit.Degree) return "is in degrees, which no tool has";
        return Glob.Matches(limit.Of, ToolPartName.Of(key.Part), ignoreCase: true)
            ? null
            : $"is for {limit.Of}, not {ToolPartName.Of(key.Part)}";
    }

    private static string? WhyNotDatum(LimitConfig limit, OffsetKey key)
    {
        if (limit.Tool is not null && limit.Register is null) return "is for tools, not registers";
        if (limit.Register is { } register && !Glob.Matches(register, key.Register.ToString(), ignoreCase: true))
            return $"is for register {register}, not {key.Register}";
        if (!Glob.Matches(limit.Axis, key.Axis.ToString(), ignoreCase: true))
            return $"is for axis {limit.Axis}, not {key.Axis}";
        if (key.IsLinear == (limit.Unit == Unit.Degree) && limit.Unit is not null)
            return key.IsLinear
                ? $"is in degrees, and {key.Axis} is a length"
                : $"is a length, and {key.Axis} is an angle";
        return null;
    }
}
