using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;
using SetupAudit.Units;

namespace SetupAudit.Accuracy.Scraps;

/// <summary>Spoils parts behind the past of every job of a made-up shop whose cycles are told, and asks why.</summary>
internal sealed class Scrapping(int seed)
{
    public List<ScrapVerdict> Verdicts { get; } = [];

    public void Run(MadeMachine machine, History history, ref int days)
    {
        if (!machine.TellsCycles) return;
        foreach (var job in machine.Jobs)
            foreach (var kind in Enum.GetValues<ScrapKind>())
                Spoil(machine, history, job, kind, ++days);
    }

    private void Spoil(MadeMachine machine, History history, Job job, ScrapKind kind, int days)
    {
        var dice = Dice.For(seed, $"{machine.Config.Name} {job.Program} {kind}");
        var control = new SortedDictionary<OffsetKey, decimal>(history.Control.ToDictionary());
        var diary = history.Diary.Branch();
        var moment = history.EndsUtc.AddDays(2 * days);
        if (history.Between(job) is { } between) SetUp(machine, between, diary, dice, moment.AddDays(-1), control, null);
        var right = new SetupDay(machine, job, diary, dice).Right();
        var scene = new Scene(machine, job, dice.Pick(job.Datums), right, control.ToDictionary(), history);
        if (new ScrapMaker(scene, dice).Make(kind) is not { } scrap) return;
        if (kind == ScrapKind.NeverSet && !LeftByOther(scene, scrap, diary, dice, moment, control)) return;
        var day = new ScrapDay(scene, scrap, diary, control, dice);
        var (trace, error, measured) = day.Play(moment);
        Verdicts.Add(new ScrapVerdict
        {
            Seed = seed,
            Machine = machine.Config.Name,
            Unit = Length.ShortName(machine.Config.Units),
            Program = job.Program,
            Kind = day.Shown ? kind : ScrapKind.Unseen,
            Key = scrap.Key,
            Error = measured,
            Uncertainty = error.Uncertainty,
            Trace = trace,
            Spoiled = day.Shown ? day.Spoiled : [],
        });
    }

    // A job on a fixture that is nearly as high was in the register before.
    private static bool LeftByOther(
        Scene scene, Scrap scrap, Diary diary, Dice dice, DateTimeOffset moment,
        SortedDictionary<OffsetKey, decimal> control)
    {
        var others = scene.Machine.Jobs.Where(job => job != scene.Job && job.Main == scrap.Key.Register).ToList();
        if (others.Count == 0 || scene.IsLathe) return false;
        var left = scene.Machine.Round((double)scene.Should(scrap.Key) + scrap.By);
        SetUp(scene.Machine, dice.Pick(others), diary, dice, moment.AddHours(-12), control, (scrap.Key, left));
        return true;
    }

    private static void SetUp(
        MadeMachine machine, Job job, Diary diary, Dice dice, DateTimeOffset moment,
        SortedDictionary<OffsetKey, decimal> control, (OffsetKey Key, decimal Value)? with)
    {
        var day = new SetupDay(machine, job, diary, dice);
        var right = day.Right();
        if (with is { } other) right[other.Key] = other.Value;
        day.Play(moment, control, right, null);
        diary.Drain();
    }
}
