using System.Collections.Immutable;
using SetupAudit.Datums;
using SetupAudit.Folding;

namespace SetupAudit.Accuracy.Shops;

/// <summary>The past of a machine: its jobs set up in turn, all of them clean.</summary>
internal sealed class History
{
    private static readonly DateTimeOffset Begins = new(2026, 1, 12, 6, 0, 0, TimeSpan.Zero);

    private readonly MadeMachine _machine;
    private readonly Dice _dice;
    private readonly Diary _diary;
    private readonly SortedDictionary<OffsetKey, decimal> _control = [];
    private readonly List<(Job Job, ImmutableSortedDictionary<OffsetKey, decimal> Control)> _states = [];
    private History(MadeMachine machine, int seed)
    {
        _machine = machine;
        _dice = Dice.For(seed, machine.Config.Name + " past");
        var derivation = new Derivation(
            machine.Shop, machine.Config, machine.Programs, machine.Sheets, new Changes.ToLoadShelf());
        _diary = new Diary(derivation, derivation.Start());
    }

    /// <summary>Where the past ends and a setup to be judged may begin.</summary>
    public DateTimeOffset EndsUtc { get; private set; } = Begins;

    public Diary Diary => _diary;

    /// <summary>What the control holds at the end.</summary>
    public IReadOnlyDictionary<OffsetKey, decimal> Control => _control;

    /// <summary>What it held after each setup, with the job that was set up.</summary>
    public IReadOnlyList<(Job Job, ImmutableSortedDictionary<OffsetKey, decimal> Control)> States => _states;

    /// <summary>The setups of the past as they were judged.</summary>
    public IReadOnlyList<DerivedSetup> Setups => _diary.Finished;

    public static History Play(MadeMachine machine, int seed)
    {
        var history = new History(machine, seed);
        history.Stock();
        var turns = machine.Jobs.SelectMany(job => Enumerable.Repeat(job, job.Earlier)).ToList();
        while (turns.Count > 0)
        {
            var job = history._dice.Pick(turns);
            turns.Remove(job);
            if (history.Between(job) is { } other) history.SetUp(other);
            history.SetUp(job);
        }
        return history;
    }

    /// <summary>The job that must be set up in between, so that a new setup of this one can be seen; null where none
    /// must.</summary>
    public Job? Between(Job job)
    {
        if (job.Way == SettingWay.Probed || _states.FindLast(state => state.Job.Main == job.Main).Job != job) return null;
        return _dice.Pick(_machine.Jobs.Where(other => other != job && other.Main == job.Main).ToList());
    }

    /// <summary>How often a job was set up.</summary>
    public int Earlier(Job job) => _states.Count(state => state.Job == job);

    // What stands in the control from before anything is known.
    private void Stock()
    {
        foreach (var tool in _machine.Rack)
        {
            _control[tool.LengthKey] = _machine.Round(tool.Length);
            if (tool.Diameter > 0) _control[tool.DiameterKey] = _machine.Round(tool.Diameter);
            if (tool.Diameter > 0) _control[tool.LengthWearKey] = _control[tool.DiameterWearKey] = 0m;
        }
        foreach (var register in _machine.Jobs.SelectMany(job => job.Datums).Select(datum => datum.Register))
        {
            // On a lathe the tools carry X.
            if (_machine.Config.IsLathe) _control[OffsetKey.Datum(register, Axis.X)] = 0m;
            foreach (var axis in _machine.Config.IsLathe ? [Axis.Z] : (Axis[])[Axis.X, Axis.Y, Axis.Z])
                _control[OffsetKey.Datum(register, axis)] = _machine.Round(_dice.Between(-300, -50) * _machine.Mm);
        }
        if (_machine.TellsCycles)
            foreach (var job in _machine.Jobs) _machine.Programs.Add(JobText.Of(_machine, job, Begins.AddDays(-3)));
        _diary.Dump(Begins.AddHours(-1), _control);
    }

    private void SetUp(Job job)
    {
        var day = new SetupDay(_machine, job, _diary, _dice);
        var done = day.Play(EndsUtc, _control, day.Right(), null);
        _states.Add((job, _control.ToImmutableSortedDictionary()));
        _diary.Drain();
        EndsUtc = done.AddHours(_dice.Between(13, 40));
    }
}
