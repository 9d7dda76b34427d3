using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings;

/// <summary>
/// Which axes of a register a setup is asked to have set once it set any: those its sheets name and those its programs
/// move in; where neither is known, X, Y and Z of a mill.
/// </summary>
internal static class AskedAxes
{
    private static readonly Axis[] OfAnyMill = [Axis.X, Axis.Y, Axis.Z];

    public static IReadOnlyList<AskedAxis> Of(SetupCase setupCase, Register register)
    {
        var asked = new SortedDictionary<OffsetKey, AskedAxis>();
        foreach (var use in setupCase.Programs)
        {
            ByProgram(setupCase, use, register, asked);
            BySheet(use, register, asked);
        }
        if (!setupCase.Machine.IsLathe && NotKnown(setupCase, register) is { } reason)
            foreach (var axis in OfAnyMill)
                Add(asked, OffsetKey.Datum(register, axis), was => was with { Unknown = reason });
        return [.. asked.Values.Where(axis => !IsLeftAlone(setupCase, axis))];
    }

    private static void ByProgram(
        SetupCase setupCase, ProgramUse use, Register register, SortedDictionary<OffsetKey, AskedAxis> asked)
    {
        if (Scope(use, register) is not { Cuts: not false } scope) return;
        foreach (var axis in scope.Axes)
        {
            var key = OffsetKey.Datum(register, axis);
            if (!key.IsLinear || (IsSecondary(axis) && setupCase.Setup.After[key] is null)) continue;
            Add(asked, key, was => was with
            {
                Programs = [.. was.Programs, use],
                Evidence = With(was.Evidence, use.Line(scope.Line)),
            });
        }
    }

    private static void BySheet(ProgramUse use, Register register, SortedDictionary<OffsetKey, AskedAxis> asked)
    {
        if (use.Sheet is not { } sheet) return;
        foreach (var axis in sheet.Datums.Where(datum => datum.Register == register).SelectMany(datum => datum.Axes))
            Add(asked, OffsetKey.Datum(register, axis), was => was with
            {
                Sheets = was.Sheets.Contains(sheet) ? was.Sheets : [.. was.Sheets, sheet],
                Evidence = With(was.Evidence, sheet.Line()),
            });
    }

    /// <summary>Why it cannot be said which axes are wanted; null where it can.</summary>
    private static string? NotKnown(SetupCase setupCase, Register register)
    {
        if (setupCase.Programs.Count == 0) return "no program is known for this setup, so X, Y and Z are asked for";
        if (setupCase.Sheets().Any(item => item.Sheet.Datums.Any(datum => datum.Register == register))) return null;
        foreach (var use in setupCase.Programs)
        {
            if (use.Scope is not { } scope)
                return $"the text of {use.Program} is not known, so X, Y and Z are asked for";
            if (scope.Missing.Count > 0 && Scope(use, register)?.Cuts is null)
                return $"{Words.List(scope.Missing)}, which {use.Program} calls, has not been read, so X, Y and Z are "
                    + "asked for";
        }
        return setupCase.Programs.Any(use => use.Cuts())
            ? null
            : "no program that cuts is known for this setup, so X, Y and Z are asked for";
    }

    // A fixed datum is not set again; a program that sets the axis itself does not wait for the setter; Z that comes
    // from tool lengths and a lathe's X that comes from tool geometry stay as they are.
    private static bool IsLeftAlone(SetupCase setupCase, AskedAxis asked)
    {
        var (register, axis) = (asked.Key.Register, asked.Key.Axis);
        if (axis == Axis.Z && setupCase.Machine.ZFromToolLengths) return true;
        if (axis == Axis.X && setupCase.IsXByGeometry(register)) return true;
        if (IsFixed(setupCase, asked.Key)) return true;
        return !WasMissed(setupCase, asked.Key)
            && setupCase.Programs.Any(use => use.Cuts() && use.SetsItself(asked.Key));
    }

    private static bool IsFixed(SetupCase setupCase, OffsetKey key) =>
        setupCase.Programs.Select(use => use.Sheet).OfType<SetupSheet>().SelectMany(sheet => sheet.Datums)
            .Any(datum => datum.Register == key.Register && datum.Fixed.ContainsKey(key.Axis));

    private static bool WasMissed(SetupCase setupCase, OffsetKey key) =>
        setupCase.Setup.Touches.Any(touch => touch.Missed && touch.Key == key);

    private static RegisterScope? Scope(ProgramUse use, Register register) =>
        use.Scope?.Registers.FirstOrDefault(scope => scope.Register == register);

    private static bool IsSecondary(Axis axis) => axis is Axis.U or Axis.V or Axis.W;

    private static void Add(
        SortedDictionary<OffsetKey, AskedAxis> asked, OffsetKey key, Func<AskedAxis, AskedAxis> more) =>
        asked[key] = more(asked.TryGetValue(key, out var was) ? was : new AskedAxis(key));

    private static IReadOnlyList<SourceLine> With(IReadOnlyList<SourceLine> lines, SourceLine? line) =>
        line is null ? lines : [.. lines, line];
}
