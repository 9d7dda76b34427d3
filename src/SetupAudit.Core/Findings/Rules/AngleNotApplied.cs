using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>An angle was measured beyond its limit, and no rotation was set after it.</summary>
internal sealed class AngleNotApplied : IRule
{
    private static readonly Axis[] Rotations = [Axis.R, Axis.A, Axis.B, Axis.C];

    public string Name => "angle-not-applied";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        if (setupCase.JudgedAt() is not { } atUtc) return [];
        var marks = SetMarks.Of(setupCase);
        return from measurement in setupCase.Setup.Measurements
               where measurement.Angle is not null && measurement.AtUtc <= atUtc
               group measurement by measurement.Feature ?? "" into angles
               orderby angles.Key
               let last = angles.MaxBy(angle => angle.AtUtc)
               let limit = Limit(setupCase, last)
               where limit is not null && !limit.Value.Holds(last.Angle.GetValueOrDefault())
                   && !IsTurned(setupCase, last, marks)
               select Found(setupCase, last, limit.Value, atUtc);
    }

    private Finding Found(SetupCase setupCase, Measurement measured, Tolerance limit, DateTimeOffset atUtc)
    {
        var angle = measured.Angle.GetValueOrDefault();
        var what = measured.Feature is { } feature ? $"The angle of {Words.Given(feature)}" : "An angle";
        var register = measured.Register is { } of ? $" in {of}" : "";
        var message = $"{what} was measured at {Words.With(angle, Unit.Degree)} at "
            + $"{setupCase.Told(measured.AtUtc)}, beyond {Says(limit)}, and no rotation was set"
            + $"{register} after it by {setupCase.Told(atUtc, measured.AtUtc)}.";
        return setupCase.Raise(this, Severity.High, measured.Feature is { } name ? Words.InId(name) : "angle", message,
            atUtc, SheetLines(setupCase, measured).Append(measured.Source)) with
        {
            Register = measured.Register,
            Value = angle,
            ExpectedRange = limit.Range,
            Unit = Unit.Degree,
        };
    }

    /// <summary>
    /// The sheet's range for the feature, else the print-out's own where the line is about the angle.
    /// </summary>
    private static Tolerance? Limit(SetupCase setupCase, Measurement? measured)
    {
        if (measured is null) return null;
        var sheet = Wanted(setupCase, measured).Select(item => item.Measure.Angle).FirstOrDefault();
        if (sheet is { } range) return new Tolerance(range.Low, range.High);
        return measured.Size is null ? Tolerance.Of(measured) : null;
    }

    private static IEnumerable<(SetupSheet Sheet, SheetMeasure Measure)> Wanted(
        SetupCase setupCase, Measurement measured) =>
        from item in setupCase.Sheets()
        from measure in item.Sheet.Measured
        where measure.Angle is not null && measure.Feature is not null && measured.Names(measure.Feature)
        select (item.Sheet, measure);

    private static IEnumerable<Evidence.SourceLine?> SheetLines(SetupCase setupCase, Measurement measured) =>
        Wanted(setupCase, measured).Select(item => item.Sheet.Line());

    /// <summary>
    /// A rotation, or a rotary axis, of the register was set after the angle, or the program sets it itself.
    /// </summary>
    private static bool IsTurned(SetupCase setupCase, Measurement measured, IReadOnlyList<SetMark> marks) =>
        marks.Any(mark => mark.Key.IsDatum && Rotations.Contains(mark.Key.Axis) && mark.AtUtc > measured.AtUtc
            && (measured.Register is not { } register || mark.Key.Register == register))
        || (measured.Register is { } own && setupCase.Programs.Any(use =>
            Rotations.Any(axis => use.SetsItself(OffsetKey.Datum(own, axis)))));

    private static string Says(Tolerance limit) => limit switch
    {
        { Range: { } range } => $"its limit of {Words.Range(range, Unit.Degree)}",
        { Low: { } low } => $"its lower limit of {Words.With(low, Unit.Degree)}",
        _ => $"its upper limit of {Words.With(limit.High.GetValueOrDefault(), Unit.Degree)}",
    };
}
