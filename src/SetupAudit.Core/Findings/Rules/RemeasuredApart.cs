using SetupAudit.Datums;
using SetupAudit.Evidence;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings.Rules;

/// <summary>
/// The same axis or feature of the same part was touched twice in one setup, with no cycle between, and differs by more
/// than probing repeats. A later touch that agrees with any earlier one withdraws it.
/// </summary>
internal sealed class RemeasuredApart : IRule
{
    /// <summary>
    /// What two touches of the same surface may differ by, in mm: common practice, no source. A probe repeats within a
    /// few thousandths; ten times that covers chips, burrs and warmth, and is still small enough to matter on a part.
    /// </summary>
    public const decimal RepeatsMm = 0.025m;

    /// <summary>A control that resolves coarsely cannot show less than a few of its steps.</summary>
    public const int RepeatsSteps = 10;

    /// <summary>The same for an angle: 0.025 mm over an edge of 75 mm.</summary>
    public const decimal RepeatsDegrees = 0.02m;

    public string Name => "remeasured-apart";

    public Severity Default => Severity.High;

    public IEnumerable<Finding> Judge(SetupCase setupCase)
    {
        var starts = CutStarts(setupCase);
        return Axes(setupCase, starts).Concat(Features(setupCase, starts));
    }

    private IEnumerable<Finding> Axes(SetupCase setupCase, List<DateTimeOffset> starts) =>
        from touch in setupCase.Setup.Touches
        where touch is { Missed: false, Value: not null }
        group new Taken(touch.AtUtc, touch.Value.GetValueOrDefault(), touch.Source) by touch.Key into taken
        orderby taken.Key
        from pair in Apart(taken, Repeats(setupCase, taken.Key.UnitOn(setupCase.Machine.Units)), starts)
        select OfAxis(setupCase, taken.Key, pair);

    private Finding OfAxis(SetupCase setupCase, OffsetKey key, Pair pair)
    {
        var message = Says(setupCase, Words.Begin(Words.Name(key)), pair, key.UnitOn(setupCase.Machine.Units));
        return setupCase.Raise(this, Severity.High, key, message, pair.Second.AtUtc, pair.Lines) with
        {
            Value = pair.Second.Value,
            Expected = pair.First.Value,
        };
    }

    private IEnumerable<Finding> Features(SetupCase setupCase, List<DateTimeOffset> starts)
    {
        // A line that told a register's own value is a touch already.
        var touches = setupCase.Setup.Touches.Select(touch => touch.Source).ToHashSet();
        return from measurement in setupCase.Setup.Measurements
               where measurement.Feature is not null
               from value in Values(measurement, touches.Contains(measurement.Source))
               group new Taken(measurement.AtUtc, value.Value, measurement.Source)
                   by new Measured(measurement.Feature?.ToUpperInvariant() ?? "", measurement.Register, value.What)
               into taken
               orderby taken.Key.Feature, taken.Key.What, taken.Key.Register
               from pair in Apart(taken, Repeats(setupCase, setupCase.Machine.Units), starts)
               select OfFeature(setupCase, taken.Key, pair);
    }

    private Finding OfFeature(SetupCase setupCase, Measured measured, Pair pair)
    {
        var unit = setupCase.Machine.Units;
        var message = Says(setupCase, $"{Words.Begin(measured.What)} of {Words.Given(measured.Feature)}", pair, unit);
        var what = $"{Words.InId(measured.Feature)}.{measured.What}";
        return setupCase.Raise(this, Severity.High, what, message, pair.Second.AtUtc, pair.Lines) with
        {
            Register = measured.Register,
            Value = pair.Second.Value,
            Expected = pair.First.Value,
            Unit = unit,
        };
    }

    // Angles are left out: a part is knocked straight between two of them.
    private static IEnumerable<(string What, decimal Value)> Values(Measurement measurement, bool isTouch)
    {
        if (measurement.SizeMeasured() is { } size) yield return ("size", size);
        if (isTouch) yield break;
        foreach (var axis in new[] { Axis.X, Axis.Y, Axis.Z })
            if (measurement.At(axis) is { } value) yield return (axis.ToString(), value);
    }

    /// <summary>
    /// For each part, the last value where no earlier one of the part agrees with it, and the one before it.
    /// </summary>
    private static IEnumerable<Pair> Apart(IEnumerable<Taken> taken, decimal repeats, List<DateTimeOffset> starts)
    {
        foreach (var part in taken.GroupBy(touch => Started(starts, touch.AtUtc)))
        {
            var touches = part.OrderBy(touch => touch.AtUtc).ThenBy(touch => touch.Source.Line).ToList();
            var last = touches[^1];
            if (touches.Count > 1 && touches.SkipLast(1).All(touch => Math.Abs(touch.Value - last.Value) > repeats))
                yield return new Pair(touches[^2], last);
        }
    }

    /// <summary>Starts of the cycles that cut, in order: a program that only probes is part of setting up.</summary>
    private static List<DateTimeOffset> CutStarts(SetupCase setupCase)
    {
        var probing = setupCase.Programs.Where(use => use.IsWhole() && !use.Cuts())
            .Select(use => use.Program).ToHashSet();
        return [.. setupCase.Setup.Cycles.Where(cycle => cycle.Program is null || !probing.Contains(cycle.Program))
            .Select(cycle => cycle.StartUtc).Order()];
    }

    private static int Started(List<DateTimeOffset> starts, DateTimeOffset momentUtc)
    {
        var (low, high) = (0, starts.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (starts[middle] <= momentUtc) low = middle + 1;
            else high = middle;
        }
        return low;
    }

    private static decimal Repeats(SetupCase setupCase, Unit unit) => unit == Unit.Degree
        ? RepeatsDegrees
        : Math.Max(RepeatsSteps * setupCase.Machine.Resolution, Length.Convert(RepeatsMm, Unit.Millimetre, unit));

    private static string Says(SetupCase setupCase, string what, Pair pair, Unit unit) =>
        $"{what} was touched twice with no cycle between and differs by "
        + $"{Words.With(Math.Abs(pair.Second.Value - pair.First.Value), unit)}: "
        + $"{Words.With(pair.First.Value, unit)} at {setupCase.Told(pair.First.AtUtc)}, "
        + $"{Words.With(pair.Second.Value, unit)} at {setupCase.Told(pair.Second.AtUtc, pair.First.AtUtc)}.";

    private sealed record Taken(DateTimeOffset AtUtc, decimal Value, SourceLine Source);

    private sealed record Measured(string Feature, Register? Register, string What);

    private sealed record Pair(Taken First, Taken Second)
    {
        public IEnumerable<SourceLine> Lines => [First.Source, Second.Source];
    }
}
