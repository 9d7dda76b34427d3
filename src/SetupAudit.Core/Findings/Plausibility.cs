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

    // A place the machine cannot reach needs to be less far from the usual one, which it can.
    private const double ImprobableOutside = 0.01;

    private const int ValuesUsed = 20;

    // In mm. Common practice, no source: a spindle probe repeats to a few microns, a vise put back to some hundredths.
    private const double ProbingRepeat = 0.003;
    private const double UsualGuess = 0.02;
    private const double LargestScale = 300;

    // In mm, where an offset was seldom measured anew. Common practice, no source: another tool is clamped a little
    // longer or shorter, an insert sits a little elsewhere, a cutter of the same name has nearly the same diameter, and
    // a
    // wear goes back to zero with a new tool and up again by some hundredths at a time.
    private const double LengthReplaced = 1.5;
    private const double InsertReplaced = 0.5;
    private const double DiameterReplaced = 0.1;
    private const double WearReset = 0.2;

    private readonly Dictionary<OffsetKey, Usual?> _known = [];
    private readonly Dictionary<OffsetKey, Usual?> _own = [];
    private readonly Dictionary<OffsetKey, IReadOnlyList<Companion>> _companions = [];
    private Companions? _beside;
    private readonly double _unit = setupCase.Machine.Units == Unit.Inch ? 1 / 25.4 : 1;
    private readonly ILookup<(OffsetKey Key, string? Program, string? Title), PastValue> _past =
        setupCase.Past.ToLookup(value => (value.Key, value.Program, value.Title));

    /// <summary>The program of the setup whose past counts for an offset: the one that has most of it. Null where no
    /// program is known.</summary>
    public ProgramUse? ProgramOf(OffsetKey key) => setupCase.Programs switch
    {
        [] => null,
        [var only] => only,
        var uses => uses.OrderByDescending(use => PastOf(key, use).Count())
            .ThenByDescending(use => RangeOf(key, use) is not null).First(),
    };

    /// <summary>What the offset usually is, by its own past or by a register that it usually keeps its distance to;
    /// null where too little is known for a verdict.</summary>
    public Usual? Of(OffsetKey key)
    {
        if (!_known.TryGetValue(key, out var usual)) _known[key] = usual = Choose(key);
        return usual;
    }

    /// <summary>Far from the usual: more improbable than a clean value ever is, and by more than two counts and what
    /// probing repeats to. Where registers that it usually keeps its distance to lie at a usual place, most of them
    /// decide: a fixture that lies elsewhere carries all its registers along.</summary>
    public bool IsImplausible(OffsetKey key, decimal value) => CompanionsOf(key) is { Count: > 0 } companions
        ? IsApart(key, value, companions)
        : IsFarFromOwn(key, value);

    private bool IsFarFromOwn(OffsetKey key, decimal value) => Own(key) is { } usual
        && IsFar(key, value, usual, usual.Location)
        && AcceptedPlaces(key).All(place => IsFar(key, value, usual, place));

    // One of the others may be the one that is wrong; most of them are not.
    private bool IsApart(OffsetKey key, decimal value, IReadOnlyList<Companion> companions) =>
        2 * companions.Count(companion => IsApart(key, value, companion)) > companions.Count;

    private bool IsApart(OffsetKey key, decimal value, Companion companion) =>
        companion.Accepted.Append(companion.Usual.Location)
            .All(place => IsFar(key, value, companion.Usual, place));

    private Usual? Choose(OffsetKey key)
    {
        if (setupCase.Setup.After.Value(key) is not { } value) return Own(key);
        var companions = CompanionsOf(key);
        var apart = IsApart(key, value, companions);
        return companions.Where(companion => IsApart(key, value, companion) == apart)
            .MinBy(companion => companion.Usual.Spread)?.Usual ?? Own(key);
    }

    // A register that is far from its own usual place tells nothing of where another should be.
    private IReadOnlyList<Companion> CompanionsOf(OffsetKey key)
    {
        if (_companions.TryGetValue(key, out var known)) return known;
        var own = Own(key);
        return _companions[key] = own is null || own.Count == 0
            ? []
            : [.. (_beside ??= new Companions(setupCase, _past)).Of(key, ProgramOf(key), own, ProbingRepeat * _unit)
                .Where(companion => !StandsFarFromOwn(companion.Key))];
    }

    private bool StandsFarFromOwn(OffsetKey key) =>
        setupCase.Setup.After.Value(key) is { } value && IsFarFromOwn(key, value);

    private Usual? Own(OffsetKey key)
    {
        if (!_own.TryGetValue(key, out var usual)) _own[key] = usual = Find(key, ProgramOf(key));
        return usual;
    }

    private bool IsFar(OffsetKey key, decimal value, Usual usual, decimal place)
    {
        var distance = Math.Abs(value - place);
        return distance >= 2 * setupCase.Machine.Resolution && (double)distance > 2 * ProbingRepeat * _unit
            && usual.Tail(value, place) < (IsOutside(key, value) && !IsOutside(key, usual.Location)
                ? ImprobableOutside
                : Improbable);
    }

    // Where a person accepted that the job lies elsewhere, it may lie there again: one such value moves no median.
    private IEnumerable<decimal> AcceptedPlaces(OffsetKey key) =>
        PastOf(key, ProgramOf(key)).Where(value => value.Accepted).TakeLast(ValuesUsed).Select(value => value.Value);

    private bool IsOutside(OffsetKey key, decimal value) => key.IsDatum && key.Axis is Axis.X or Axis.Y
        && setupCase.Machine.Travel.TryGetValue(key.Axis, out var travel) && !travel.Holds(value);

    private Usual? Find(OffsetKey key, ProgramUse? use)
    {
        var step = (double)setupCase.Machine.Resolution;
        var floor = ProbingRepeat * _unit;
        var past = PastOf(key, use).ToList();
        var set = past.Where(value => value.WasSet).ToList();
        var used = (set.Count >= LeastValues ? set : past).TakeLast(ValuesUsed).Select(value => value.Value).ToList();
        if (used.Count < LeastValues)
            return RangeOf(key, use) is { } range ? Usual.FromRange(range.Low, range.High, step, floor) : null;
        if (key.IsTool && set.Count < LeastValues) floor = Replaced(key) * _unit;
        var prior = ScalePrior.From(Neighbours(key, use), UsualGuess * _unit, 0.3 * step, LargestScale * _unit);
        return Usual.From(used, prior, step, floor);
    }

    private double Replaced(OffsetKey key) => key.IsWear ? WearReset : key.Part switch
    {
        ToolPart.Length => LengthReplaced,
        ToolPart.X or ToolPart.Z => setupCase.Machine.IsLathe ? InsertReplaced : LengthReplaced,
        _ => DiameterReplaced,
    };

    /// <summary>The sheet's range in the machine's unit; null where it gives none.</summary>
    private Bounds? RangeOf(OffsetKey key, ProgramUse? use)
    {
        if (use?.Sheet is not { } sheet) return null;
        var range = key.IsTool
            ? key.Part == ToolPart.Length ? sheet.Tools.FirstOrDefault(tool => tool.Tool == key.Tool)?.Length : null
            : Expected(sheet, key);
        return range is { } bounds ? sheet.InUnit(bounds, setupCase.Machine.Units) : null;
    }

    private static Bounds? Expected(SetupSheet sheet, OffsetKey key)
    {
        var datum = sheet.Datums.FirstOrDefault(item => item.Register == key.Register);
        return datum is not null && datum.Expect.TryGetValue(key.Axis, out var bounds) ? bounds : null;
    }

    private IEnumerable<PastValue> PastOf(OffsetKey key, ProgramUse? use) =>
        _past[(key, use?.Program, use?.Text?.Title)];

    /// <summary>How other axes of the same job, and other jobs on the machine, vary.</summary>
    private List<(double Scale, double Freedom)> Neighbours(OffsetKey key, ProgramUse? use)
    {
        var neighbours = new List<(double, double)>();
        foreach (var group in _past.Where(group => Alike(group.Key.Key, key)))
        {
            if (group.Key.Key == key && group.Key.Program == use?.Program) continue;
            var values = group.Where(value => value.WasSet).TakeLast(ValuesUsed).Select(value => value.Value).ToList();
            if (values.Count < LeastValues) continue;
            // The same job's other axes say more than another job's.
            var same = group.Key.Program == use?.Program && (key.IsTool || group.Key.Key.Register == key.Register);
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
