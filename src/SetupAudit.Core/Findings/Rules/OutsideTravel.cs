using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// The datum's X or Y lies outside the machine's travel; or its Z is such that the shortest called tool cannot reach
/// the lowest programmed Z.
/// </summary>
internal sealed class OutsideTravel : IRule
{
    public string Name => "outside-travel";

    public Severity Default => Severity.High;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is null) return [];
        var cuts = setupCase.CutRegisters().ToList();
        var set = SetMarks.Of(setupCase).Where(mark => mark.Key.IsDatum).Select(mark => mark.Key.Register);
        var registers = set.Concat(cuts.Select(cut => cut.Register)).Where(register => register.HoldsDatum())
            .Distinct().Order();
        var flat = from register in registers
                   from axis in new[] { Axis.X, Axis.Y }
                   select Flat(setupCase, OffsetKey.Datum(register, axis));
        var deep = cuts.GroupBy(cut => cut.Register).OrderBy(group => group.Key)
            .Select(group => group.Select(cut => Deep(setupCase, cut)).OfType<Finding>().FirstOrDefault());
        return flat.Concat(deep).OfType<Finding>();
    }

    private Finding? Flat(SetupCase setupCase, OffsetKey key)
    {
        if (!setupCase.Machine.Travel.TryGetValue(key.Axis, out var travel)) return null;
        if (setupCase.Setup.After[key] is not { Value: { } value } state) return null;
        var common = Common(setupCase, key.Axis);
        var place = value + (common?.Value ?? 0m);
        if (travel.Holds(place)) return null;
        var unit = setupCase.Machine.Units;
        var message = $"{Words.Name(key)} lies at {Words.With(place, unit)} in machine coordinates"
            + $"{With(common, unit)}, outside the machine's travel of {Words.Range(travel, unit)}.";
        return setupCase.Raise(this, Severity.High, key, message, setupCase.HeldFrom(Younger(state, common)),
            [state.Source, common?.Source]) with
        { Value = value, ExpectedRange = travel };
    }

    private Finding? Deep(SetupCase setupCase, CutRegister cut)
    {
        var key = OffsetKey.Datum(cut.Register, Axis.Z);
        if (setupCase.Machine.IsLathe || !setupCase.Machine.Travel.TryGetValue(Axis.Z, out var travel)) return null;
        if (cut.Scope.LowestZ is not { } lowest) return null;
        if (setupCase.Setup.After[key] is not { Value: { } value } state) return null;
        if (Shortest(setupCase, cut) is not { } shortest) return null;
        var common = Common(setupCase, Axis.Z);
        var place = value + (common?.Value ?? 0m) + lowest + shortest.Value;
        if (travel.Holds(place)) return null;
        var unit = setupCase.Machine.Units;
        var message = $"Z of {cut.Register} at {Words.With(value, unit)}{With(common, unit)} cannot be worked with: "
            + $"{cut.Use.Program} goes down to Z {Words.With(lowest, unit)}, and with the shortest tool it calls (tool "
            + $"{Words.Number(shortest.Tool)}, {Words.With(shortest.Value, unit)}) that is {Words.With(place, unit)} "
            + $"in machine coordinates, outside the travel of {Words.Range(travel, unit)}."
            + $"{setupCase.Doubts(cut.Use)}";
        return setupCase.Raise(this, Severity.Stop, key, message,
            setupCase.HeldFrom(Younger(Younger(state, common), shortest.State)),
            [state.Source, common?.Source, shortest.State.Source, cut.Use.Line(cut.Scope.Line)]) with
        {
            Value = value,
            ExpectedRange = new Bounds(value - place + travel.Low, value - place + travel.High),
        };
    }

    /// <summary>The shortest tool that the program cuts with; null where the length of any is not known.</summary>
    private static (int Tool, decimal Value, OffsetState State)? Shortest(SetupCase setupCase, CutRegister cut)
    {
        if (!cut.Use.IsWhole()) return null;
        (int Tool, decimal Value, OffsetState State)? shortest = null;
        foreach (var tools in setupCase.CalledTools().Where(tools => tools.Any(called => called.Use == cut.Use)))
        {
            if (tools.All(called => called.Tool.Tool == setupCase.Machine.ProbeTool)) continue;
            var state = setupCase.Setup.After[OffsetKey.OfTool(tools.Key, ToolPart.Length)];
            if (state?.Value is not { } value || value == 0m) return null;
            if (shortest is null || value < shortest.Value.Value) shortest = (tools.Key, value, state);
        }
        return shortest;
    }

    private static OffsetState? Common(SetupCase setupCase, Axis axis) =>
        setupCase.Setup.After[OffsetKey.Datum(Register.Common, axis)] is { Value: not null and not 0m } state
            ? state
            : null;

    private static string With(OffsetState? common, Unit unit) =>
        common?.Value is { } value ? $" with the common offset of {Words.With(value, unit)} added" : "";

    private static OffsetState Younger(OffsetState state, OffsetState? other) =>
        other is not null && other.SinceUtc > state.SinceUtc ? other : state;
}
