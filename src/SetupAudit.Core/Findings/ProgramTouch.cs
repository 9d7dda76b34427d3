using SetupAudit.Datums;
using SetupAudit.Setups;

namespace SetupAudit.Findings;

/// <summary>
/// Whether a program calls an offset, and whether it writes it itself; null where a text that was not read may.
/// </summary>
internal static class ProgramTouch
{
    /// <summary>Whether parts are cut with the offset. The common offset and G92 add to every register.</summary>
    public static bool? Calls(ProgramUse? use, OffsetKey key)
    {
        if (use?.Scope is not { } scope) return null;
        var whole = scope.IsWhole ? false : (bool?)null;
        if (key.IsTool)
        {
            var number = key.Tool;
            return scope.Tools.Any(tool => tool.Tool == number || tool.Length == number || tool.Diameter == number)
                ? true
                : whole;
        }
        if (!key.Register.HoldsDatum()) return scope.Registers.Any(register => register.Cuts == true) ? true : whole;
        var own = scope.Registers.FirstOrDefault(register => register.Register == key.Register);
        return own is null ? whole : own.Cuts;
    }

    /// <summary>
    /// Whether the program moves the offset itself: a write, a shift, or a probing call that sets it.
    /// </summary>
    public static bool? Writes(ProgramUse? use, OffsetKey key)
    {
        if (use?.Scope is not { } scope) return null;
        if (use.SetsItself(key) || scope.Writes.Any(write => write.Writes(key))) return true;
        // A block may name its register by a number that only the control knows.
        var may = scope.Writes.Any(write => write.MayWrite(key)) || scope.Probing.Any(move => move.MaySet(key));
        return may || scope.Missing.Count > 0 || scope.IsCutShort ? null : false;
    }
}
