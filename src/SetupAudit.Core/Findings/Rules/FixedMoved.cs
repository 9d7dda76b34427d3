using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>A datum that the sheet gives as fixed has another value.</summary>
internal sealed class FixedMoved : IRule
{
    public string Name => "fixed-moved";

    public Severity Default => Severity.Stop;

    public bool RestsOnOrder => true;

    public IEnumerable<Finding> Judge(SetupCase setupCase) =>
        setupCase.Sheets()
            .SelectMany(item => item.Sheet.Datums, (item, datum) => (item.Use, item.Sheet, Datum: datum))
            .SelectMany(item => item.Datum.Fixed, (item, pair) =>
                (item.Use, item.Sheet, Key: OffsetKey.Datum(item.Datum.Register, pair.Key), Wanted: pair.Value))
            .DistinctBy(item => item.Key).OrderBy(item => item.Key)
            .Select(item => Found(setupCase, item.Use, item.Sheet, item.Key, item.Wanted)).OfType<Finding>();

    private Finding? Found(SetupCase setupCase, ProgramUse use, SetupSheet sheet, OffsetKey key, decimal onSheet)
    {
        if (setupCase.Setup.After[key] is not { } state) return null;
        var unit = key.UnitOn(setupCase.Machine.Units);
        var wanted = sheet.FixedValue(key, onSheet, setupCase.Machine);
        var heldUtc = setupCase.HeldFrom(state);
        string message;
        if (state.Value is not { } value)
            message = $"the control holds no value for {Words.Name(key)}, which the setup sheet of {use.Program} gives "
                + $"as fixed at {Words.With(wanted, unit)}.";
        else if (IsSame(value, wanted, sheet, key, setupCase.Machine)) return null;
        else
            message = $"{Words.Name(key)} stands at {Words.With(value, unit)}, and the setup sheet of {use.Program} "
                + $"gives it as fixed at {Words.With(wanted, unit)}: it is "
                + $"{Words.With(Math.Abs(value - wanted), unit)} away.";
        return setupCase.Raise(
            this, Severity.Stop, key, Words.Begin(message), heldUtc, [state.Source, sheet.Line()]) with
        {
            Value = state.Value,
            Expected = wanted,
        };
    }

    // A value carried over from the other unit has more digits than the control keeps.
    private static bool IsSame(decimal value, decimal wanted, SetupSheet sheet, OffsetKey key, MachineConfig machine) =>
        key.IsLinear && sheet.Units != machine.Units
            ? Math.Abs(value - wanted) < machine.Resolution
            : value == wanted;
}
