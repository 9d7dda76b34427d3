using SetupAudit.Accuracy.Mistakes;
using SetupAudit.Accuracy.Shops;
using SetupAudit.Datums;
using SetupAudit.Folding;

namespace SetupAudit.Accuracy.Trials;

/// <summary>One more setup behind the past of a machine, with or without a mistake in it.</summary>
internal sealed record Planting
{
    public required MadeMachine Machine { get; init; }

    public required History History { get; init; }

    public required Job Job { get; init; }

    /// <summary>The job that must be set up before it, so that it can be seen; null where none must.</summary>
    public required Job? Between { get; init; }

    /// <summary>How long after the past.</summary>
    public required int Days { get; init; }

    /// <summary>What judges it; null for what judged the past.</summary>
    public Derivation? By { get; init; }

    public static Planting Of(MadeMachine machine, History history, Job job, int days) => new()
    {
        Machine = machine,
        History = history,
        Job = job,
        Between = history.Between(job),
        Days = days,
    };

    /// <summary>Plays it.</summary>
    /// <param name="make">Gives the mistake, or null where it cannot happen; null for a clean setup.</param>
    /// <returns>Null where the mistake cannot happen.</returns>
    public (Scene Scene, Slip? Slip, DerivedSetup Derived)? Play(Dice dice, Func<Scene, Dice, Slip?>? make)
    {
        var control = new SortedDictionary<OffsetKey, decimal>(History.Control.ToDictionary());
        var diary = By is null ? History.Diary.Branch() : History.Diary.Branch(By);
        var moment = History.EndsUtc.AddDays(2 * Days);
        if (Between is not null) SetUp(Between, diary, dice, moment.AddDays(-1), control);
        var day = new SetupDay(Machine, Job, diary, dice);
        var right = day.Right();
        var before = control.ToDictionary();
        var scene = new Scene(Machine, Job, dice.Pick(Job.Datums), right, before, History);
        var slip = make?.Invoke(scene, dice);
        if (make is not null && slip is null) return null;
        var done = day.Play(moment, control, right, slip);
        return diary.Judged(done.AddHours(3)) is { } derived
            ? (scene, slip, derived)
            : throw new InvalidOperationException("no setup was judged");
    }

    private void SetUp(
        Job job, Diary diary, Dice dice, DateTimeOffset moment, SortedDictionary<OffsetKey, decimal> control)
    {
        var day = new SetupDay(Machine, job, diary, dice);
        day.Play(moment, control, day.Right(), null);
        diary.Drain();
    }
}
