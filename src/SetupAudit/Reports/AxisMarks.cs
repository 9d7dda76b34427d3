using SetupAudit.Datums;
using SetupAudit.Shapes;
using SetupAudit.Shop;

namespace SetupAudit.Reports;

/// <summary>Decides which mark an axis gets.</summary>
public static class AxisMarks
{
    private static readonly string[] NotSetRules = ["axis-not-set", "datum-from-earlier", "datum-empty"];

    public static AxisMark Of(SetupDocument setup, RegisterView register, Axis axis, OffsetView value)
    {
        if (value.Set) return value is { Late: true, Needed: true } ? AxisMark.SetLate : AxisMark.Set;
        if (NotSetFinding(setup, register.Register, axis) is not null) return AxisMark.NotSet;
        var begun = register.Axes.Any(item => item.Value.Set);
        if (value.Needed && begun && setup.Head.JudgedUtc is null && setup.Head.ClosedUtc is null)
            return AxisMark.NotYet;
        return value.After is null ? AxisMark.Unknown : AxisMark.Carried;
    }

    public static AxisMark Of(OffsetView value) =>
        value.Set ? AxisMark.Set : value.After is null ? AxisMark.Unknown : AxisMark.Carried;

    /// <summary>The word beside the mark, so that nothing rests on colour alone.</summary>
    public static string Word(AxisMark mark) => mark switch
    {
        AxisMark.Set => "set",
        AxisMark.SetLate => "SET LATE",
        AxisMark.NotSet => "NOT SET",
        AxisMark.NotYet => "not set so far",
        AxisMark.Carried => "carried over",
        _ => "no value known",
    };

    // A note says that carrying over is in order here; it is no missing axis. A finding about the register as a whole
    // counts for each axis that is needed.
    private static FindingView? NotSetFinding(SetupDocument setup, Register register, Axis axis) =>
        setup.Findings.FirstOrDefault(finding => finding.Severity >= Severity.High && finding.Register == register
            && NotSetRules.Contains(finding.Rule, StringComparer.Ordinal)
            && (finding.Axis == axis || (finding.Axis is null && IsNeeded(setup, register, axis))));

    private static bool IsNeeded(SetupDocument setup, Register register, Axis axis) =>
        setup.Head.Registers.Where(view => view.Register == register).SelectMany(view => view.Axes)
            .Any(item => item.Axis == axis && item.Value.Needed);
}
