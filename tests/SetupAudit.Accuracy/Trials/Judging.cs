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
        foreach (var machine in MachineMaker.Make(seed, choice))
        {
            var history = History.Play(machine, seed);
            var days = 0;
            if (choice.Runs(Trial.Jumps)) Plant(machine, history, ref days);
            if (choice.Runs(Trial.Traces)) scrapping.Run(machine, history, ref days);
        }
        _result.Scraps.AddRange(scrapping.Verdicts);
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
        var control = new SortedDictionary<OffsetKey, decimal>(history.Control.ToDictionary());
        var diary = history.Diary.Branch();
        var moment = history.EndsUtc.AddDays(2 * days);
        if (history.Between(job) is { } between) SetUp(machine, between, diary, dice, moment.AddDays(-1), control);
        var day = new SetupDay(machine, job, diary, dice);
        var right = day.Right();
        var before = control.ToDictionary();
        var scene = new Scene(machine, job, dice.Pick(job.Datums), right, before, history);
        var slip = mistake?.Make(scene, dice);
        if (mistake is not null && slip is null) return;
        var done = day.Play(moment, control, right, slip);
        if (diary.Judged(done.AddHours(3)) is not { } derived) throw new InvalidOperationException("no setup was judged");
        if (slip is null) CountClean(derived);
        else Score(scene, slip, derived);
    }

    private static void SetUp(
        MadeMachine machine, Job job, Diary diary, Dice dice, DateTimeOffset moment,
        SortedDictionary<OffsetKey, decimal> control)
    {
        var day = new SetupDay(machine, job, diary, dice);
        day.Play(moment, control, day.Right(), null);
        diary.Drain();
    }

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
