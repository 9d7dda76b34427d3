using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>Compares what was measured with the sizes, angles and distances that a setup sheet wants.</summary>
internal sealed class SheetMeasured(SetupCase setupCase, SetupSheet sheet, DateTimeOffset? doneUtc)
{
    // Finer than any control resolves; a distance is a square root and has no last digit.
    private const int DistancePlaces = 6;

    private Unit Machine => setupCase.Machine.Units;

    public IEnumerable<SheetMiss> Of(SheetMeasure wanted)
    {
        if (wanted.Between.Count == 2 && wanted.Distance is { } distance)
            return Judge($"{wanted.Between[0]}+{wanted.Between[1]}.distance",
                $"the distance between {Words.Given(wanted.Between[0])} and {Words.Given(wanted.Between[1])}",
                Distances(wanted.Between[0], wanted.Between[1]), sheet.InUnit(distance, Machine), Machine);
        if (wanted.Feature is not { } feature) return [];
        var sizes = wanted.Size is { } size
            ? Judge($"{feature}.size", $"the size of {Words.Given(feature)}",
                Values(feature, measured => measured.SizeMeasured()), sheet.InUnit(size, Machine), Machine)
            : [];
        var angles = wanted.Angle is { } angle
            ? Judge($"{feature}.angle", $"the angle of {Words.Given(feature)}",
                Values(feature, measured => measured.Angle), angle, Unit.Degree)
            : [];
        var any = wanted.Size is null && wanted.Angle is null
            && !setupCase.Setup.Measurements.Any(measured => measured.Names(feature))
            ? NotMeasured(feature, Words.Given(feature), null, Machine)
            : [];
        return [.. sizes, .. angles, .. any];
    }

    private IEnumerable<SheetMiss> Judge(string what, string name, List<Value> values, Bounds range, Unit unit)
    {
        if (values.Count == 0) return NotMeasured(what, name, range, unit);
        var off = values.Where(value => !range.Holds(value.Is)).ToList();
        if (off.Count == 0) return [];
        var first = off[0];
        var more = values.Count == 1
            ? ""
            : $"; {Words.Number(off.Count)} of {Words.Count(values.Count, "part")} measured are outside";
        var message = $"{Words.Begin(name)} was measured at {Words.With(first.Is, unit)} at "
            + $"{setupCase.Told(first.Lines[^1].AtUtc)}, outside the {Words.Range(range, unit)} of the "
            + $"setup sheet of {sheet.Program}{more}.";
        return [new SheetMiss(what, message, first.Lines[^1].AtUtc, first.Is, range, unit,
            [sheet.Line(), .. off.SelectMany(value => value.Lines).Select(line => line.Source)])];
    }

    /// <summary>What should have been measured by the end of the setup; nothing while that is still to come.</summary>
    private IEnumerable<SheetMiss> NotMeasured(string what, string name, Bounds? range, Unit unit)
    {
        if (doneUtc is not { } atUtc) return [];
        var wants = range is { } bounds ? $"it within {Words.Range(bounds, unit)}" : "it measured";
        var message = $"{Words.Begin(name)} was not measured by {setupCase.Told(atUtc)}, and the setup "
            + $"sheet of {sheet.Program} wants {wants}.";
        return [new SheetMiss(what, message, atUtc, null, range, unit, [sheet.Line()])];
    }

    private List<Value> Values(string feature, Func<Measurement, decimal?> value) =>
    [
        .. setupCase.Setup.Measurements.Where(measured => measured.Names(feature) && value(measured) is not null)
            .LastOfEachPart().Select(measured => new Value(value(measured).GetValueOrDefault(), [measured])),
    ];

    /// <summary>Of each part on which both features were placed in the same register and axes.</summary>
    private List<Value> Distances(string one, string other)
    {
        var ones = Placed(one);
        var others = Placed(other);
        return
        [
            .. from first in ones
               from second in others
               where first.Cycle == second.Cycle && first.Register == second.Register
               let distance = Distance(first, second)
               where distance is not null
               select new Value(distance.Value, [.. new[] { first, second }.OrderBy(measured => measured.AtUtc)]),
        ];
    }

    private List<Measurement> Placed(string feature) =>
    [
        .. setupCase.Setup.Measurements
            .Where(measured => measured.Names(feature) && (measured.X ?? measured.Y ?? measured.Z) is not null)
            .LastOfEachPart(),
    ];

    private static decimal? Distance(Measurement first, Measurement second)
    {
        var sum = 0.0;
        var axes = 0;
        foreach (var axis in new[] { Axis.X, Axis.Y, Axis.Z })
        {
            if (first.At(axis) is not { } from || second.At(axis) is not { } to) continue;
            sum += Math.Pow((double)(to - from), 2);
            axes++;
        }
        return axes == 0 ? null : Math.Round((decimal)Math.Sqrt(sum), DistancePlaces);
    }

    private sealed record Value(decimal Is, IReadOnlyList<Measurement> Lines);
}
