using SetupAudit.Datums;
using SetupAudit.Readings;

namespace SetupAudit.Accuracy.Shops;

/// <summary>One setup of a job as it goes: the program comes to hand, tools and datums are set, the first parts are
/// cut.</summary>
internal sealed class SetupDay(MadeMachine machine, Job job, Diary diary, Dice dice)
{
    private static readonly Dictionary<OffsetKey, decimal> Nothing = [];

    private readonly bool _tellsTouches = job.Way == SettingWay.Probed;

    /// <summary>What a careful setter's numbers would be.</summary>
    public SortedDictionary<OffsetKey, decimal> Right()
    {
        var right = new SortedDictionary<OffsetKey, decimal>();
        var lies = new Dictionary<Axis, double> { [Axis.X] = dice.Normal(job.Loose), [Axis.Y] = dice.Normal(job.Loose) };
        foreach (var datum in job.Datums)
            foreach (var (axis, place) in datum.Places)
                right[OffsetKey.Datum(datum.Register, axis)] =
                    machine.Round(place.Draw(dice) + lies.GetValueOrDefault(axis));
        foreach (var tool in job.Tools.Where(tool => tool.EverySetup || dice.Chance(0.08)))
        {
            right[tool.LengthKey] = machine.Round(tool.Length + dice.Normal(tool.Spread));
            // A mill's diameter is typed in once, and again when a cutter is reground.
            if (tool.IsTurning || dice.Chance(0.03))
                right[tool.DiameterKey] = machine.Round(tool.Diameter + dice.Normal(tool.DiameterSpread));
        }
        return right;
    }

    /// <summary>Plays the setup through its first parts, and leaves the control as it then is.</summary>
    /// <param name="control">What the control holds; changed.</param>
    /// <returns>The moment the last part was done.</returns>
    public DateTimeOffset Play(
        DateTimeOffset moment, SortedDictionary<OffsetKey, decimal> control,
        IReadOnlyDictionary<OffsetKey, decimal> right, Slip? slip)
    {
        var dumped = Prepare(moment, control, right, slip);
        return Cut(dumped, control);
    }

    /// <summary>Plays the setup up to its dump, before the first part.</summary>
    public DateTimeOffset Prepare(
        DateTimeOffset moment, SortedDictionary<OffsetKey, decimal> control,
        IReadOnlyDictionary<OffsetKey, decimal> right, Slip? slip = null)
    {
        if (!machine.TellsCycles) machine.Programs.Add(JobText.Of(machine, job, moment.AddMinutes(-10)));
        else diary.Print(moment, PrintMeaning.Program, line => line with { Program = job.Program });
        Set(moment, control, right, slip);
        var dumped = moment.AddMinutes(30);
        // A mistake after all was set is seen to happen where a dump came between.
        if (slip is { Way: SlipWay.Afterwards } && dice.Chance(0.6)) diary.Dump(moment.AddMinutes(25), control);
        foreach (var (key, value) in slip?.Wrong ?? Nothing)
            if (slip?.Way != SlipWay.AtTheTouch || !right.ContainsKey(key)) control[key] = value;
        diary.Dump(dumped, control);
        return dumped;
    }

    private void Set(
        DateTimeOffset moment, SortedDictionary<OffsetKey, decimal> control,
        IReadOnlyDictionary<OffsetKey, decimal> right, Slip? slip)
    {
        // Who types a number has touched the surface before, or has not.
        var typesOver = dice.Chance(0.5);
        foreach (var (key, value) in right)
        {
            var hit = slip is not null && slip.Wrong.ContainsKey(key);
            var set = hit && slip is { Way: SlipWay.AtTheTouch } ? slip.Wrong[key] : value;
            if (_tellsTouches && !(hit && slip is { Way: SlipWay.Typed } && !typesOver))
                Tell(moment = moment.AddSeconds(40), key, set);
            control[key] = set;
        }
    }

    private void Tell(DateTimeOffset moment, OffsetKey key, decimal value)
    {
        if (key.IsTool)
            diary.Print(moment, PrintMeaning.ToolSet, line => line with
            {
                Tool = key.Tool,
                Of = key.Part,
                Value = value,
            });
        else
            diary.Print(moment, PrintMeaning.DatumSet, line => line with
            {
                Register = key.Register,
                Axis = key.Axis,
                Value = value,
            });
    }

    private DateTimeOffset Cut(DateTimeOffset dumped, SortedDictionary<OffsetKey, decimal> control)
    {
        var moment = dumped.AddMinutes(5);
        if (!machine.TellsCycles) return moment;
        for (var part = dice.Whole(1, 3); part > 0; part--)
        {
            diary.Print(moment, PrintMeaning.CycleStart, line => line with { Program = job.Program });
            diary.Print(moment = moment.AddMinutes(12), PrintMeaning.CycleEnd);
            moment = moment.AddMinutes(2);
        }
        if (dice.Chance(0.5)) diary.Dump(moment, control);
        return moment;
    }
}
