using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Tracing;

namespace SetupAudit.Accuracy.Scraps;

/// <summary>A day on which parts are spoiled: setup, good parts, the mistake, bad parts, mostly its undoing, and parts
/// after it.</summary>
internal sealed class ScrapDay(
    Scene scene, Scrap scrap, Diary diary, SortedDictionary<OffsetKey, decimal> control, Dice dice)
{
    private readonly List<(DateTimeOffset Start, DateTimeOffset End, MachineState State)> _bad = [];
    private double _wrong;
    private bool _shown;
    private readonly bool _promptDumps = dice.Chance(0.6);
    private DateTimeOffset _now;
    private int _serial = dice.Whole(100, 900);

    /// <summary>Plays the day and asks for one of the bad parts.</summary>
    public (Trace Trace, PartError Error, decimal Measured) Play(DateTimeOffset moment)
    {
        var fromStart = scrap.Kind is ScrapKind.SetWrong or ScrapKind.NeverSet;
        _now = SetUp(moment, fromStart);
        if (fromStart) (_wrong, _shown) = (scrap.By, true);
        if (!fromStart) Run(dice.Whole(2, 5), bad: scrap.Kind == ScrapKind.Unseen && dice.Chance(0.3));
        if (!fromStart && scrap.Kind != ScrapKind.Unseen) Move(scrap.By);
        Run(dice.Whole(2, 6), bad: true);
        if (scrap.Kind != ScrapKind.Unseen && dice.Chance(0.6))
        {
            // Put right as well as somebody can.
            Move(-scrap.By + dice.Normal(0.003) * scene.Machine.Mm);
            Run(dice.Whole(1, 4), bad: false);
        }
        Dump(3);
        diary.Drain();
        return Ask();
    }

    /// <summary>Any dump showed the wrong value; else nobody can know.</summary>
    public bool Shown => scrap.Kind != ScrapKind.Unseen && _shown;

    public IReadOnlyList<DateTimeOffset> Spoiled => scrap.Kind == ScrapKind.Unseen ? [] : [.. _bad.Select(part => part.Start)];

    private DateTimeOffset SetUp(DateTimeOffset moment, bool wrong)
    {
        var day = new SetupDay(scene.Machine, scene.Job, diary, dice);
        var right = new SortedDictionary<OffsetKey, decimal>(scene.Right.ToDictionary());
        if (wrong && scrap.Kind == ScrapKind.SetWrong)
            right[scrap.Key] = scene.Machine.Round((double)right[scrap.Key] + scrap.By);
        if (wrong && scrap.Kind == ScrapKind.NeverSet) right.Remove(scrap.Key);
        return day.Prepare(moment, control, right);
    }

    private void Run(int parts, bool bad)
    {
        for (; parts > 0; parts--)
        {
            var start = _now = _now.AddMinutes(dice.Between(1, 6));
            var serial = MachineMaker.Text(_serial++);
            diary.Print(start, PrintMeaning.CycleStart, line => line with { Program = scene.Job.Program, Serial = serial });
            _now = start.AddMinutes(dice.Between(6, 20));
            diary.Print(_now, PrintMeaning.CycleEnd);
            if (bad) _bad.Add((start, _now, diary.State));
            if (dice.Chance(0.25)) Trim();
            if (dice.Chance(_promptDumps ? 0.5 : 0.1)) Dump(1);
        }
    }

    // What is right is corrected as well: a tool wears, and its wear follows.
    private void Trim()
    {
        var tool = dice.Pick(scene.Job.Tools);
        var key = dice.Chance(0.5) ? tool.LengthWearKey : tool.DiameterWearKey;
        if (key == scrap.Key) return;
        control[key] = scene.Machine.Round((double)control[key] + dice.Sign() * dice.Between(0.005, 0.03) * scene.Machine.Mm);
    }

    private void Move(double by)
    {
        control[scrap.Key] = scene.Machine.Round((double)control[scrap.Key] + by);
        _wrong += by;
        if (_promptDumps) Dump(2);
    }

    private void Dump(int minutes)
    {
        _now = _now.AddMinutes(minutes);
        diary.Dump(_now, control);
        _shown |= Math.Abs(_wrong) > Math.Abs(scrap.By) / 2;
    }

    private (Trace Trace, PartError Error, decimal Measured) Ask()
    {
        var part = dice.Pick(_bad);
        var uncertainty = scene.Machine.Round(dice.Pick<double>([0.005, 0.01, 0.02]) * scene.Machine.Mm);
        var inside = dice.Chance(0.5);
        var measured = scene.Machine.Round(Effect(inside) + dice.Normal((double)uncertainty));
        var error = Error(measured, inside) with
        {
            Uncertainty = uncertainty,
            Register = dice.Chance(0.5) ? Cut() : null,
            Tool = scrap.Key.IsTool && dice.Chance(0.7) ? scrap.Key.Tool : null,
        };
        return (diary.Trace(part.State, scene.Job.Program, error, part.End, _now.AddHours(1)), error, measured);
    }

    /// <summary>What the wrong offset does to the part: a datum or a tool that is too far out or too long leaves the
    /// surface there; a cutter taken for larger than it is keeps off the wall.</summary>
    private double Effect(bool inside)
    {
        var round = scrap.Key.IsTool && IsDiameter(scrap.Key.Part) && !scene.IsLathe;
        return round && inside ? -scrap.By : scrap.By;
    }

    private PartError Error(decimal measured, bool inside)
    {
        if (scrap.Key.IsTool && IsDiameter(scrap.Key.Part))
            return new PartError { Diameter = measured, Inside = inside, Uncertainty = 0 };
        var axis = scrap.Key.IsTool ? Axis.Z : scrap.Key.Axis;
        return new PartError { ByAxis = new Dictionary<Axis, decimal> { [axis] = measured }, Uncertainty = 0 };
    }

    private Register Cut() => scrap.Key.IsDatum ? scrap.Key.Register : scene.Datum.Register;

    private static bool IsDiameter(ToolPart part) =>
        part is ToolPart.Diameter or ToolPart.DiameterWear or ToolPart.X or ToolPart.XWear;
}
