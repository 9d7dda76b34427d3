using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>The program cuts in a register that is zero in every axis, or that is known to hold no value.</summary>
internal sealed class DatumEmpty : IRule
{
    public string Name => "datum-empty";

    public Severity Default => Severity.Stop;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } judgedUtc) return [];
        return from cut in setupCase.CutRegisters()
               group cut by cut.Register into cuts
               orderby cuts.Key
               let atUtc = cuts.Select(cut => cut.Use).JudgedWith(judgedUtc)
               where !IsSetBetween(setupCase, cuts.Key, judgedUtc, atUtc)
               from finding in InRegister(setupCase, cuts.Key, [.. cuts], atUtc)
               select finding;
    }

    // A program that came to hand later may find set what was empty when cutting started with another.
    private static bool IsSetBetween(
        SetupCase setupCase, Register register, DateTimeOffset judgedUtc, DateTimeOffset atUtc) =>
        atUtc > judgedUtc && SetMarks.Until(setupCase, atUtc).Any(mark =>
            mark.AtUtc > judgedUtc && mark.Key.IsDatum && mark.Key.Register == register);

    private IEnumerable<Finding> InRegister(
        SetupCase setupCase, Register register, List<CutRegister> cuts, DateTimeOffset atUtc)
    {
        var after = setupCase.Setup.After;
        var keys = after.Keys(register).ToList();
        if (keys.Count == 0 || IsMeantToBeSo(setupCase, register, cuts)) yield break;
        if (keys.TrueForAll(key => after.Value(key) is null or 0m))
        {
            if (IsSaidWhole(setupCase, register, cuts) && !IsNormalOnLathe(setupCase, register, cuts))
                yield return Empty(setupCase, register, keys, cuts, atUtc);
            yield break;
        }
        var wanted = cuts.SelectMany(cut => cut.Scope.Axes).ToHashSet();
        foreach (var key in keys.Where(key => after[key] is { Value: null } && wanted.Contains(key.Axis)))
            yield return NoValue(setupCase, key, cuts, atUtc);
    }

    private Finding Empty(
        SetupCase setupCase, Register register, List<OffsetKey> keys, List<CutRegister> cuts, DateTimeOffset atUtc)
    {
        var states = keys.Select(key => setupCase.Setup.After[key]).OfType<OffsetState>().ToList();
        var axes = Words.List(keys.Select(key => Words.Axis(key.Axis)));
        var since = setupCase.Told(states.Max(state => state.SinceUtc));
        var what = states.TrueForAll(state => state.Value is null)
            ? $"the control holds no value for {axes} of it since {since}"
            : $"it is zero in every axis ({axes} at 0 {Length.ShortName(setupCase.Machine.Units)} since {since})";
        var message = $"{Who(cuts)} {register}, and {what}.{Doubts(setupCase, cuts)}";
        return setupCase.Raise(this, Weight(cuts), register, message, atUtc,
            states.Select(state => state.Source).Concat(Lines(cuts))) with
        { Value = states[0].Value };
    }

    private Finding NoValue(SetupCase setupCase, OffsetKey key, List<CutRegister> cuts, DateTimeOffset atUtc)
    {
        var state = setupCase.Setup.After[key];
        var message = $"{Who(cuts)} {key.Register} and moves in {key.Axis}, and the control holds no value for "
            + $"{Words.Name(key)}.{Doubts(setupCase, cuts)}";
        return setupCase.Raise(this, Weight(cuts), key, message, atUtc, Lines(cuts).Append(state?.Source));
    }

    // The sheet gives it as fixed, or the programs set it themselves before they cut in it.
    private static bool IsMeantToBeSo(SetupCase setupCase, Register register, List<CutRegister> cuts) =>
        setupCase.IsFixed(register) || cuts.TrueForAll(cut =>
            Enum.GetValues<Axis>().Any(axis => cut.Use.SetsItself(OffsetKey.Datum(register, axis))));

    // An axis that the program moves in and no source has shown is unsaid, which is not zero.
    private static bool IsSaidWhole(SetupCase setupCase, Register register, List<CutRegister> cuts) =>
        cuts.SelectMany(cut => cut.Scope.Axes).Distinct().Select(axis => OffsetKey.Datum(register, axis))
            .Where(key => key.Axis is Axis.X or Axis.Y or Axis.Z)
            .All(key => setupCase.Setup.After[key] is not null
                || (key.Axis == Axis.Z && setupCase.Machine.ZFromToolLengths));

    /// <summary>
    /// On a lathe the geometry of the tools may hold all that a register would: zero is normal unless the tools' X is
    /// known to be empty too.
    /// </summary>
    private static bool IsNormalOnLathe(SetupCase setupCase, Register register, List<CutRegister> cuts)
    {
        if (!setupCase.IsXByGeometry(register)) return false;
        var geometry = setupCase.CalledTools()
            .Where(tools => tools.Any(called => cuts.Exists(cut => cut.Use == called.Use)))
            .Select(tools => setupCase.Setup.After[OffsetKey.OfTool(tools.Key, ToolPart.X)])
            .OfType<OffsetState>().ToList();
        return geometry.Count == 0 || geometry.Exists(state => state.Value is not null and not 0m);
    }

    private static Severity Weight(List<CutRegister> cuts) =>
        cuts.Exists(cut => cut.IsCertain) ? Severity.Stop : Severity.High;

    private static string Who(List<CutRegister> cuts)
    {
        var certain = cuts.Where(cut => cut.IsCertain).Select(cut => cut.Use.Program).Distinct().ToList();
        if (certain.Count > 0) return $"{Words.List(certain)} {(certain.Count == 1 ? "cuts" : "cut")} in";
        var programs = Words.List(cuts.Select(cut => cut.Use.Program));
        return $"{programs} may cut, in a called program that has not been read, in";
    }

    private static string Doubts(SetupCase setupCase, List<CutRegister> cuts) =>
        setupCase.Doubts(cuts.Select(cut => cut.Use));

    private static IEnumerable<Evidence.SourceLine?> Lines(List<CutRegister> cuts) =>
        cuts.Select(cut => cut.Use.Line(cut.Scope.Line));
}
