using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Shop;

namespace SetupAudit.Accuracy.Trials;

/// <summary>
/// Two mistakes that nearly predict the same value, on purpose: the shop's lengths are chosen so that they lie a gap
/// apart. Which of the two is planted is tossed, each is made as it is made elsewhere, and only what falls beside the
/// other's prediction counts, so that the rarer one stays as rare as it is.
/// </summary>
internal sealed class CloseCalls(int seed, ShopChoice choice)
{
    private const int Tries = 400;
    private const int JobsEach = 2;

    // A gap is in counts, or in the axis' usual spreads.
    private static readonly (string Name, double Counts, double Spreads)[] Gaps =
        [("none", 0, 0), ("a third of a count", 0.34, 0), ("half a spread", 0, 0.5), ("three spreads", 0, 3), ("ten spreads", 0, 10)];

    private readonly List<Answer> _answers = [];

    /// <summary>How close, the closest first.</summary>
    public static IReadOnlyList<string> Order { get; } = [.. Gaps.Select(gap => gap.Name)];

    public IReadOnlyList<Answer> Run()
    {
        foreach (var machine in MachineMaker.Make(seed, choice).Where(machine => !machine.Config.IsLathe))
        {
            var history = History.Play(machine, seed);
            var days = 0;
            foreach (var job in machine.Jobs.Take(JobsEach))
                foreach (var pair in Pairs)
                    foreach (var gap in Gaps)
                        Plant(machine, history, job, pair, gap, ++days);
        }
        return _answers;
    }

    private void Plant(
        MadeMachine machine, History history, Job job, Pair pair, (string Name, double Counts, double Spreads) gap, int days)
    {
        var dice = Dice.For(seed, $"{machine.Config.Name} {job.Program} {pair.Name} {gap.Name}");
        var key = OffsetKey.Datum(job.Main, pair.Axis);
        var apart = gap.Counts * (double)machine.Config.Resolution + gap.Spreads * job.Usually(key).Spread;
        var length = machine.Mm == 1 ? pair.Mm : pair.Inch;
        var config = pair.Lengths(machine.Config, (decimal)length, (decimal)(length + apart * dice.Sign()));
        var close = machine with { Config = config, Shop = machine.Shop with { Machines = [config] } };
        var planting = Planting.Of(close, history, job, days) with
        {
            By = new Derivation(close.Shop, config, close.Programs, close.Sheets, new ToLoadShelf()),
        };
        var played = planting.Play(dice, (scene, thrown) => Close(scene, thrown, pair, key, length, apart));
        if (played is not { Slip: { } slip } done) return;
        if (Answer.Of(gap.Name, slip.Cause, done.Derived.Findings, key) is { } answer)
            _answers.Add(answer with { Pair = pair.Name });
    }

    private static Slip? Close(Scene scene, Dice dice, Pair pair, OffsetKey key, double length, double apart)
    {
        if (scene.Datum.Register != key.Register || !CanBe(pair.One) || !CanBe(pair.Other)) return null;
        for (var left = Tries; left > 0; left--)
        {
            var make = dice.Chance(0.5) ? pair.One : pair.Other;
            if (make(scene, dice) is not { Wrong.Count: 1 } slip || !slip.Wrong.TryGetValue(key, out var wrong)) continue;
            var by = Math.Abs((double)(wrong - scene.Should(key)));
            if (Math.Abs(by - length) <= apart + 1.5 * (double)scene.Machine.Config.Resolution) return slip;
        }
        return null;

        // Where a job is probed, nobody has an edge finder to forget, and by hand no stylus.
        bool CanBe(Func<Scene, Dice, Slip?> make) => Enumerable.Range(0, 5).Any(_ => make(scene, dice) is not null);
    }

    private static readonly Pair[] Pairs =
    [
        new("riser and gauge", Axis.Z, 25, 1, TouchedWrong.Riser, TouchedWrong.Gauge,
            (config, one, other) => config with { Risers = [one], Gauges = [other] }),
        new("riser and lift", Axis.Z, 25, 1, TakenFrom.Lift, TouchedWrong.Riser,
            (config, _, other) => config with { Risers = [other], Gauges = [] }),
        new("gauge and search end", Axis.Z, 20, 1, TouchedWrong.Gauge, TouchedWrong.SearchEnd,
            (config, one, other) => config with { Gauges = [one], Standoff = 5m, Search = other + 5m }),
        new("stylus and digit", Axis.X, 3, 0.125, TouchedWrong.Stylus, TypedWrong.Digit,
            (config, _, other) => config with { StylusDiameter = 2 * other, EdgeFinders = [] }),
        new("edge finder and digit", Axis.X, 5, 0.2, TouchedWrong.EdgeFinder, TypedWrong.Digit,
            (config, _, other) => config with { EdgeFinders = [2 * other] }),
        new("riser and digit", Axis.Z, 20, 2, TypedWrong.Digit, TouchedWrong.Riser,
            (config, _, other) => config with { Risers = [other], Gauges = [] }),
    ];

    /// <param name="Mm">The length they share on a machine in mm; on one in inch it is <paramref name="Inch"/>.</param>
    /// <param name="Lengths">The machine with the length given to one, and one a gap apart to the other.</param>
    private sealed record Pair(
        string Name, Axis Axis, double Mm, double Inch, Func<Scene, Dice, Slip?> One, Func<Scene, Dice, Slip?> Other,
        Func<MachineConfig, decimal, decimal, MachineConfig> Lengths);
}
