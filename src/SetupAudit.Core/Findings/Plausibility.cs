using SetupAudit.Datums;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Findings;

/// <summary>What an offset should be in a setup, from earlier setups that nobody doubts, from the sheet, and from how
/// its neighbours vary.</summary>
public sealed class Plausibility(SetupCase setupCase)
{
    /// <summary>With fewer own values than this, and no sheet, there is no verdict.</summary>
    public const int LeastValues = 3;

    /// <summary>A clean value this improbable is flagged: about one false alarm in five thousand looks.</summary>
    public const double Improbable = 2e-4;

    private const int ValuesUsed = 20;

    // In mm. Common practice, no source: a spindle probe repeats to a few microns, a vise put back to some hundredths.
    private const double ProbingRepeat = 0.003;
    private const double UsualGuess = 0.02;
    private const double LargestScale = 300;

    // In mm. A tool whose length was never measured anew may be replaced by one clamped a little longer or shorter.
    private const double ToolReplaced = 1.5;

    // In mm. A wear goes back to zero with a new tool, and up again by some hundredths at a time.
    private const double WearReset = 0.2;

    private readonly Dictionary<OffsetKey, Usual?> _known = [];
    private readonly double _unit = setupCase.Machine.Units == Unit.Inch ? 1 / 25.4 : 1;

    /// <summary>The main program of the setup, whose past counts; null where none is known.</summary>
    public ProgramUse? Program { get; } = setupCase.Programs.Count > 0 ? setupCase.Programs[0] : null;

    /// <summary>What the offset usually is; null where too little is known for a verdict.</summary>
    public Usual? Of(OffsetKey key)
    {
        if (!_known.TryGetValue(key, out var usual)) _known[key] = usual = Find(key);
        return usual;
    }

    /// <summary>Far from the usual: more improbable than a clean value ever is, and by more than two counts and what
    /// probing repeats to.</summary>
    public bool IsImplausible(OffsetKey key, decimal value)
    {
        if (Of(key) is not { } usual) return false;
        var distance = Math.Abs(value - usual.Location);
        return distance >= 2 * setupCase.Machine.Resolution && (double)distance > 2 * ProbingRepeat * _unit
            && usual.Tail(value) < Improbable;
    }

    private Usual? Find(OffsetKey key)
    {
        var step = (double)setupCase.Machine.Resolution;
        var floor = ProbingRepeat * _unit;
        var past = PastOf(key);
        var set = past.Where(value => value.WasSet).ToList();
        var used = (set.Count >= LeastValues ? set : past).TakeLast(ValuesUsed).Select(value => value.Value).ToList();
        if (used.Count < LeastValues) return FromSheet(key, step, floor);
        if (key.IsTool && set.Count < LeastValues) floor = (key.IsWear ? WearReset : ToolReplaced) * _unit;
        var prior = ScalePrior.From(Neighbours(key), UsualGuess * _unit, 0.3 * step, LargestScale * _unit);
        return Usual.From(used, prior, step, floor);
    }

    private Usual? FromSheet(OffsetKey key, double step, double floor)
    {
        if (Program?.Sheet is not { } sheet) return null;
        var range = key.IsTool
            ? key.Part == ToolPart.Length ? sheet.Tools.FirstOrDefault(tool => tool.Tool == key.Tool)?.Length : null
            : Expected(sheet, key);
        if (range is not { } bounds) return null;
        var inUnit = sheet.InUnit(bounds, setupCase.Machine.Units);
        return Usual.FromRange(inUnit.Low, inUnit.High, step, floor);
    }

    private static Bounds? Expected(SetupSheet sheet, OffsetKey key)
    {
        var datum = sheet.Datums.FirstOrDefault(item => item.Register == key.Register);
        return datum is not null && datum.Expect.TryGetValue(key.Axis, out var bounds) ? bounds : null;
    }

    private List<PastValue> PastOf(OffsetKey key) =>
        [.. setupCase.Past.Where(
            value => value.Key == key && value.Program == Program?.Program && value.Title == Program?.Text?.Title)];

    /// <summary>How other axes of the same job, and other jobs on the machine, vary.</summary>
    private List<(double Scale, double Freedom)> Neighbours(OffsetKey key)
    {
        var neighbours = new List<(double, double)>();
        foreach (var group in setupCase.Past.Where(value => value.WasSet && Alike(value.Key, key))
            .GroupBy(value => (value.Key, value.Program, value.Title)))
        {
            if (group.Key.Key == key && group.Key.Program == Program?.Program) continue;
            var values = group.TakeLast(ValuesUsed).Select(value => value.Value).ToList();
            if (values.Count < LeastValues) continue;
            // The same job's other axes say more than another job's.
            var same = group.Key.Program == Program?.Program && (key.IsTool || group.Key.Key.Register == key.Register);
            neighbours.Add((ScaleOf(values), (values.Count - 1) * (same ? 3 : 1)));
        }
        return neighbours;
    }

    private static bool Alike(OffsetKey other, OffsetKey key) => key.IsTool
        ? other.IsTool && other.Part == key.Part
        : other.IsDatum && other.IsLinear == key.IsLinear;

    // A tenth of the values may be anything: the standard deviation of what lies within, by the median of absolute
    // deviations.
    private static double ScaleOf(List<decimal> values)
    {
        var median = Usual.Median(values);
        var deviations = values.Select(value => Math.Abs(value - median)).ToList();
        var mad = (double)Usual.Median(deviations) * 1.4826;
        var mean = deviations.Average(deviation => (double)deviation) * 1.2533;
        return mad > 0 ? mad : mean;
    }
}
