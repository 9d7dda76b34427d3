using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Scraps;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Accuracy.Trials;

/// <summary>Plants a mistake of every kind, and none, behind the past of every job of a made-up shop, and asks the fold
/// what it says.</summary>
internal sealed class Judging(int seed, ShopChoice choice)
{
    private const int LeastEarlier = 4;
    private const int CleanEach = 6;

    private readonly SeedResult _result = new();

    public SeedResult Run()
    {
        var scrapping = new Scrapping(seed);
        var asks = choice.Runs(Trial.Jumps) || choice.Runs(Trial.Traces);
        foreach (var machine in asks ? MachineMaker.Make(seed, choice) : [])
        {
            var history = History.Play(machine, seed);
            var days = 0;
            if (choice.Runs(Trial.Jumps)) Plant(machine, history, ref days);
            if (choice.Runs(Trial.Traces)) scrapping.Run(machine, history, ref days);
        }
        _result.Scraps.AddRange(scrapping.Verdicts);
        if (choice.Runs(Trial.Close)) _result.Close = new CloseCalls(seed, choice).Run();
        if (choice.Runs(Trial.Reviews)) _result.Taught = new Learning(seed, choice).Run();
        if (choice.Runs(Trial.Plates))
            _result.Plates = new Judging(seed, choice with { Only = Trial.Jumps, Plates = true }).Run();
        return _result;
    }

    private void Plant(MadeMachine machine, History history, ref int days)
    {
        CountPast(history);
        foreach (var job in machine.Jobs)
        {
            for (var clean = 0; clean < CleanEach; clean++) Judge(machine, history, job, null, ++days);
            foreach (var mistake in MistakeBook.All) Judge(machine, history, job, mistake, ++days);
        }
    }

    private void CountPast(History history)
    {
        var seen = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var derived in history.Setups)
        {
            var program = derived.Programs.Count > 0 ? derived.Programs[0].Program : "";
            if (seen.GetValueOrDefault(program) >= LeastEarlier) CountClean(derived);
            else CountEarly(derived);
            seen[program] = seen.GetValueOrDefault(program) + 1;
        }
    }

    // Little or nothing is known yet but what a sheet says.
    private void CountEarly(DerivedSetup derived)
    {
        _result.Early++;
        _result.EarlyAlarms.AddRange(derived.Findings.Where(IsJump).Take(1).Select(jump => $"seed {seed}: {jump.Id}: {jump.Message}"));
    }

    private void CountClean(DerivedSetup derived)
    {
        _result.Clean++;
        var jumps = derived.Findings.Where(IsJump).ToList();
        if (jumps.Count > 0) _result.FalseAlarms.Add($"seed {seed}: {jumps[0].Id}: {jumps[0].Message}");
        _result.Doubted.AddRange(derived.Findings.Where(finding => finding.Severity >= Severity.High && !IsJump(finding))
            .Select(finding => $"seed {seed}: {finding.Id}: {finding.Message}"));
    }

    private void Judge(
        MadeMachine machine, History history, Job job, (string Cause, Func<Scene, Dice, Slip?> Make)? mistake, int days)
    {
        var dice = Dice.For(seed, $"{machine.Config.Name} {job.Program} {mistake?.Cause} {days}");
        Func<Scene, Dice, Slip?>? make = mistake is { } planted
            ? (scene, thrown) => planted.Make(scene, thrown) is { } slip && (!choice.Plates || IsOnOneRegister(job, slip))
                ? slip
                : null
            : null;
        if (Planting.Of(machine, history, job, days).Play(dice, make) is not { } played) return;
        if (played.Slip is null) CountClean(played.Derived);
        else Score(played.Scene, played.Slip, played.Derived);
    }

    // What is wrong on all of a plate keeps its distances.
    private static bool IsOnOneRegister(Job job, Slip slip) => job.Datums.Count > 1
        && slip.Wrong.Keys.All(key => key.IsDatum) && slip.Wrong.Keys.Select(key => key.Register).Distinct().Count() == 1;

    private void Score(Scene scene, Slip slip, DerivedSetup derived)
    {
        var used = slip.Wrong.Keys.Where(key => IsUsed(scene.Job, key) && slip.Wrong[key] != scene.Should(key)).ToList();
        var hit = used.ConvertAll(key => Verdict(scene, slip, key, derived));
        var alikes = new Lookalikes(scene);
        var alike = hit.Where(verdict => verdict.MustBeFound && verdict.Key.IsDatum)
            .GroupBy(verdict => verdict.Key.Register)
            .ToDictionary(group => group.Key, group => group.Select(verdict => alikes.Of(verdict.Key, verdict.Value))
                .Aggregate((IEnumerable<string> all, IEnumerable<string> one) => all.Intersect(one).ToHashSet()));
        foreach (var verdict in hit)
            _result.Verdicts.Add(verdict with
            {
                Alike = (verdict.Key.IsDatum && alike.TryGetValue(verdict.Key.Register, out var shared)
                    ? shared
                    : alikes.Of(verdict.Key, verdict.Value)).ToHashSet(StringComparer.Ordinal),
            });
    }

    private Verdict Verdict(Scene scene, Slip slip, OffsetKey key, DerivedSetup derived)
    {
        var (_, spread) = scene.Job.Usually(key);
        var own = spread;
        if (choice.Plates) spread = scene.Job.Apart(key);
        var off = (double)Math.Abs(slip.Wrong[key] - scene.Should(key));
        return new Verdict
        {
            Seed = seed,
            Machine = scene.Machine.Config.Name,
            Unit = Length.ShortName(scene.Machine.Config.Units),
            Program = scene.Job.Program,
            HasSheet = scene.Job.Sheet is not null,
            Earlier = scene.History.Earlier(scene.Job),
            Cause = slip.Cause,
            Key = key,
            Right = scene.Should(key),
            Value = slip.Wrong[key],
            Spread = spread,
            MustBeFound = off > 0.05 * scene.Machine.Mm && off > 10 * spread,
            Causes = derived.Findings.FirstOrDefault(finding => IsJump(finding) && Says(finding, key))?.Causes ?? [],
            Alike = new HashSet<string>(),
            Registers = scene.Job.Datums.Count,
            IsFarAlone = off > 10 * own,
            OtherNamed = choice.Plates && derived.Findings.Any(finding => IsJump(finding) && finding.Register is { } register
                && slip.Wrong.Keys.All(wrong => wrong.Register != register)),
        };
    }

    private static bool IsUsed(Job job, OffsetKey key) => key.IsTool
        ? job.Tools.Any(tool => tool.Number == key.Tool)
        : job.Datums.Any(datum => datum.Register == key.Register && datum.Places.ContainsKey(key.Axis));

    private static bool IsJump(Finding finding) => finding.Rule is "implausible-jump" or "tool-jump";

    private static bool Says(Finding finding, OffsetKey key) => key.IsTool
        ? finding.Tool == key.Tool && finding.Of == key.Part
        : finding.Register == key.Register && finding.Axis == key.Axis;
}
