using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit.Folding;

/// <summary>Folds one line of a print-out.</summary>
internal sealed class PrintFolding(
    MachineConfig machine, CycleFolding cycles, DumpFolding dumps, Attribution attribution)
{
    // A long night's touches may explain the morning's dump; more than this is another day's work.
    private const int TouchesKept = 400;

    // The value that a control writes after a missed surface comes within moments of the alarm.
    private static readonly TimeSpan MissedWithin = TimeSpan.FromSeconds(10);

    private readonly ChangeFinder _finder = new(machine);

    public void Fold(FoldStep step, PrintLine line)
    {
        switch (line.Means)
        {
            case PrintMeaning.Program:
                CycleFolding.Hand(step, line);
                break;
            case PrintMeaning.CycleStart:
                cycles.Start(step, line);
                break;
            case PrintMeaning.CycleEnd:
                CycleFolding.End(step, line, CycleEnding.Finished);
                break;
            case PrintMeaning.CycleStop:
                CycleFolding.End(step, line, CycleEnding.Aborted);
                break;
            case PrintMeaning.Measured:
                Measured(step, line);
                break;
            case PrintMeaning.DatumSet:
            case PrintMeaning.ToolSet:
                SetOffset(step, line);
                break;
            case PrintMeaning.Alarm:
                Alarmed(step, line);
                break;
            case PrintMeaning.PalletChange:
                step.State = step.State with { Pallet = line.Pallet ?? step.State.Pallet };
                break;
            case PrintMeaning.Setter:
                Named(step, line);
                break;
            default:
                break;
        }
    }

    private static void Named(FoldStep step, PrintLine line)
    {
        if (line.Setter is null) return;
        step.State = step.State with { Setter = line.Setter };
        if (step.Live is { InProduction: false } live) step.Put(live with { Setter = line.Setter });
    }

    private void Measured(FoldStep step, PrintLine line)
    {
        var measurement = Measurement(step, line);
        var inCycle = step.State.Running is not null && step.Live is { InProduction: true };
        var live = inCycle ? step.Live : step.LiveOrOpened(step.State.Table);
        if (live is null) return;
        step.Put(SetupBuilder.Add(live, measurement with { Cycle = CycleIndex(step) }));
        if (line.Register is null) return;
        Remember(step, line, ChangedBy.Measured, Axes(line));
        foreach (var (axis, value) in Values(line))
        {
            // A measured coordinate that is the register's own value is a touch that set it to the same again.
            var key = OffsetKey.Datum(line.Register.Value, axis);
            if (step.State.Table.Value(key) == value) Touched(step, line, key, value);
        }
    }

    private void SetOffset(FoldStep step, PrintLine line)
    {
        var by = line.By is "entered" ? ChangedBy.Entered : ChangedBy.Measured;
        Remember(step, line, by, Axes(line));
        if (line.Size is not null || line.Angle is not null) MeasuredAlong(step, line);
        var before = step.State.Table;
        foreach (var (key, value) in Keys(line))
        {
            var missed = Touched(step, line, key, value);
            if (value is not { } known || missed) continue;
            var (table, change) = _finder.Touch(step.State.Table, step.Sighting, key, known,
                (moment, named) => step.Name(moment, named.ToString(), machine.Name));
            step.State = step.State with { Table = table };
            var explained = attribution.Explain(change, step.State.Touches, step.State.Runs);
            step.RememberPasts(before, [explained]);
            dumps.Place(step, [explained], before);
        }
    }

    // A bore routine sets X and Y and tells a size in the same line.
    private void MeasuredAlong(FoldStep step, PrintLine line)
    {
        var inCycle = step.State.Running is not null && step.Live is { InProduction: true };
        var live = inCycle ? step.Live : step.LiveOrOpened(step.State.Table);
        if (live is not null) step.Put(
            SetupBuilder.Add(live, Measurement(step, line) with { Cycle = CycleIndex(step) }));
    }

    /// <summary>Notes the touch in the setup it belongs to; whether it only followed a missed surface.</summary>
    private static bool Touched(FoldStep step, PrintLine line, OffsetKey key, decimal? value)
    {
        var live = step.CutsNow && step.Live is { InProduction: true } ? step.Live
            : step.LiveOrOpened(step.State.Table);
        if (live is null) return false;
        var missed = live.Alarms.Any(alarm => alarm.Kind == "surface-not-found"
            && step.Now >= alarm.AtUtc && step.Now - alarm.AtUtc <= MissedWithin
            && (alarm.Register is null || !key.IsDatum || alarm.Register == key.Register)
            && (alarm.Axis is null || !key.IsDatum || alarm.Axis == key.Axis));
        step.Put(SetupBuilder.Add(live, new Touch
        {
            Key = key,
            AtUtc = step.Now,
            Value = value,
            Feature = line.Feature,
            Source = step.Sighting.At(line.Line),
            Missed = missed,
            Cycle = CycleIndex(step),
            CyclesBefore = live.Cycles.Count,
        }));
        return missed;
    }

    private static void Alarmed(FoldStep step, PrintLine line)
    {
        var alarm = new Alarm
        {
            AtUtc = step.Now,
            Code = line.Code,
            Text = line.Text,
            Kind = line.Kind,
            Register = line.Register,
            Axis = line.Axis,
            Feature = line.Feature,
            Source = step.Sighting.At(line.Line),
        };
        // A missed surface is part of setting up; any other alarm belongs to what is going on.
        var live = alarm.Kind == "surface-not-found" && step.State.Running is null
            ? step.LiveOrOpened(step.State.Table)
            : step.Live;
        if (live is not null) step.Put(live with { Alarms = live.Alarms.Add(alarm) });
    }

    private static void Remember(FoldStep step, PrintLine line, ChangedBy by, IReadOnlyList<Axis> axes)
    {
        var tool = line.Means == PrintMeaning.ToolSet ? line.Tool : null;
        var touch = new TouchRecord(step.Now, line.Register, axes, tool, line.Feature, by, step.Sighting.At(line.Line));
        var touches = step.State.Touches.Add(touch);
        step.State = step.State with { Touches = touches.Count > TouchesKept ? touches.RemoveAt(0) : touches };
    }

    private Measurement Measurement(FoldStep step, PrintLine line) => new()
    {
        Machine = machine.Name,
        AtUtc = step.Now,
        Feature = line.Feature,
        Register = line.Register,
        Size = line.Size ?? (
            line.X is null && line.Y is null && line.Z is null && line.Angle is null && line.Axis is null ? line.Value
                : null),
        Angle = line.Angle,
        X = line.X ?? (line.Axis == Axis.X ? line.Value : null),
        Y = line.Y ?? (line.Axis == Axis.Y ? line.Value : null),
        Z = line.Z ?? (line.Axis == Axis.Z ? line.Value : null),
        Nominal = line.Nominal,
        Low = line.Low,
        High = line.High,
        Deviation = line.Deviation,
        Source = step.Sighting.At(line.Line),
    };

    private static int? CycleIndex(FoldStep step) =>
        step.State.Running is not null && step.Live is { } live ? live.Cycles.Count - 1 : null;

    private static List<Axis> Axes(PrintLine line) => line.Axis is { } axis
        ? [axis]
        : [.. Values(line).Select(pair => pair.Axis)];

    private static IEnumerable<(Axis Axis, decimal Value)> Values(PrintLine line)
    {
        if (line.X is { } x) yield return (Axis.X, x);
        if (line.Y is { } y) yield return (Axis.Y, y);
        if (line.Z is { } z) yield return (Axis.Z, z);
        if (line.Axis is { } axis && line.Value is { } value) yield return (axis, value);
    }

    private static List<(OffsetKey Key, decimal? Value)> Keys(PrintLine line)
    {
        if (line.Means == PrintMeaning.ToolSet)
            return line.Tool is { } tool ? [(OffsetKey.OfTool(tool, line.Of ?? ToolPart.Length), line.Value)] : [];
        if (line.Register is not { } register) return [];
        var values = Values(line).Select(pair => (OffsetKey.Datum(register, pair.Axis), (decimal?)pair.Value)).ToList();
        return values.Count == 0 && line.Axis is { } axis ? [(OffsetKey.Datum(register, axis), null)] : values;
    }
}
