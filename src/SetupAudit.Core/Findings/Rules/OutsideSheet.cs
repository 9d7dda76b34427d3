using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// A datum, tool length, measured size, angle or distance lies outside its setup sheet's range, or a feature that the
/// sheet wants measured was not.
/// </summary>
internal sealed class OutsideSheet : IRule
{
    public string Name => "outside-sheet";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase) => setupCase.Sheets().SelectMany(item =>
        Datums(setupCase, item.Use, item.Sheet)
            .Concat(Tools(setupCase, item.Use, item.Sheet))
            .Concat(Measured(setupCase, item.Sheet)));

    private IEnumerable<Finding> Datums(SetupCase setupCase, ProgramUse use, SetupSheet sheet) =>
        setupCase.JudgedAt() is null ? [] :
        from datum in sheet.Datums
        from pair in datum.Expect
        let key = OffsetKey.Datum(datum.Register, pair.Key)
        let range = sheet.Range(key, pair.Value, setupCase.Machine)
        select Outside(setupCase, use, sheet, key, range) into finding
        where finding is not null
        select finding;

    private IEnumerable<Finding> Tools(SetupCase setupCase, ProgramUse use, SetupSheet sheet) =>
        setupCase.JudgedAt() is null ? [] :
        from tool in sheet.Tools
        where tool.Length is not null
        let key = OffsetKey.OfTool(tool.Tool, setupCase.Machine.IsLathe ? ToolPart.Z : ToolPart.Length)
        let range = sheet.Range(key, tool.Length.GetValueOrDefault(), setupCase.Machine)
        select Outside(setupCase, use, sheet, key, range) into finding
        where finding is not null
        select finding;

    private Finding? Outside(SetupCase setupCase, ProgramUse use, SetupSheet sheet, OffsetKey key, Bounds range)
    {
        if (setupCase.Setup.After[key] is not { Value: { } value } state || range.Holds(value)) return null;
        var unit = key.UnitOn(setupCase.Machine.Units);
        var message = $"{Words.Begin(Words.Name(key))} stands at {Words.With(value, unit)}, outside the "
            + $"{Words.Range(range, unit)} of the setup sheet of {use.Program}.";
        return setupCase.Raise(
            this, Severity.High, key, message, setupCase.HeldFrom(state), [state.Source, sheet.Line()]) with
        {
            Value = value,
            ExpectedRange = range,
        };
    }

    private IEnumerable<Finding> Measured(SetupCase setupCase, SetupSheet sheet)
    {
        var measured = new SheetMeasured(setupCase, sheet, DoneUtc(setupCase));
        return sheet.Measured.SelectMany(measured.Of).Select(miss => Missed(setupCase, miss));
    }

    private Finding Missed(SetupCase setupCase, SheetMiss miss)
    {
        var (severity, what) = (Weight(setupCase, miss), Words.InId(miss.What));
        return setupCase.Raise(this, severity, what, miss.Message, miss.AtUtc, miss.Evidence) with
        {
            Value = miss.Value,
            ExpectedRange = miss.Range,
            Unit = miss.Unit,
        };
    }

    /// <summary>
    /// When all that belongs to the setup should have been measured: at production, for the first cycle may measure
    /// what it has cut; at once where it went quiet or a person asks.
    /// </summary>
    private static DateTimeOffset? DoneUtc(SetupCase setupCase) => setupCase.Setup.Judged switch
    {
        Judgement.NotYet => null,
        Judgement.CuttingStarted => setupCase.Setup.ClosedUtc,
        _ => setupCase.Setup.JudgedUtc,
    };

    // Where no source of the machine could have told a measurement, none seen says little.
    private static Severity Weight(SetupCase setupCase, SheetMiss miss) =>
        miss.Value is null && !TellsMeasurements(setupCase) ? Severity.Low : Severity.High;

    private static bool TellsMeasurements(SetupCase setupCase) =>
        setupCase.TellsTouches || setupCase.Setup.Measurements.Count > 0
        || setupCase.Machine.Parameters.Any(map => map.Is is not null)
        || MachineSources.Patterns(setupCase.Shop, setupCase.Machine).Any(pattern => pattern.Means == "measured");
}
