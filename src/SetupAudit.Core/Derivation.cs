using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Tracing;

namespace SetupAudit;

/// <summary>
/// The main path: sightings of a machine, in the order of the moments they speak of, folded into changes, setups and
/// findings.
/// What comes out depends on the sightings, the configuration, the shelves (reviews among them) and the horizon alone.
/// </summary>
public sealed class Derivation
{
    private readonly ShopConfig _shop;
    private readonly MachineConfig _machine;
    private readonly SetupBuilder _builder;
    private readonly SetupJudge _judge;
    private readonly DumpFolding _dumps;
    private readonly PrintFolding _prints;
    private readonly StreamFolding _streams;

    public Derivation(ShopConfig shop, MachineConfig machine, ProgramShelf programs, SheetShelf sheets,
        ToLoadShelf toLoad, ReviewShelf? reviews = null)
    {
        (_shop, _machine) = (shop, machine);
        _builder = new SetupBuilder(shop, machine, MachineSources.TellCycles(shop, machine));
        _judge = new SetupJudge(shop, machine, programs, sheets, reviews ?? new ReviewShelf(), _builder);
        var attribution = new Attribution(programs, toLoad);
        _dumps = new DumpFolding(shop, machine, attribution);
        _prints = new PrintFolding(machine, new CycleFolding(machine, programs), _dumps, attribution);
        _streams = new StreamFolding(shop, machine, _dumps,
            new StreamCycles(_prints, MachineSources.PrintCycles(shop, machine)));
    }

    /// <summary>Nothing is known yet.</summary>
    public MachineState Start() => new() { Machine = _machine.Name };

    /// <summary>The state after one more sighting, which must not come before those already folded.</summary>
    public MachineState Fold(MachineState state, Sighting sighting)
    {
        if (FoldPosition.Of(sighting) < state.Position)
            throw new ArgumentException("a sighting is folded out of order", nameof(sighting));
        var news = StreamFolding.News(state, sighting);
        if (sighting.TooLate is not null || (sighting.Stream is not null && news is null))
            return state with { OpenedHere = false, Position = FoldPosition.Of(sighting) };
        var step = new FoldStep(state, sighting, _builder, _judge);
        step.Elapse();
        LookAtSource(step);
        if (sighting.Offsets is not null) _dumps.Fold(step);
        foreach (var measured in sighting.Measured) _prints.Fold(step, measured);
        if (sighting.Print is { } line) _prints.Fold(step, line);
        if (news is not null) _streams.Fold(step, news);
        return step.State;
    }

    /// <summary>All that is derived since the state was last drained, judged as of a horizon.</summary>
    /// <param name="unread">The sources that are left out because they cannot be read.</param>
    public DerivedMachine Settle(
        MachineState state, DateTimeOffset horizonUtc, IReadOnlyList<UnreadSource> unread) => new()
        {
            Machine = _machine.Name,
            HorizonUtc = horizonUtc,
            Setups =
        [
            .. state.Output.Setups.Concat(state.Live.Values.Select(live => Judged(state, live, horizonUtc)))
                .Select(derived => unread.Count == 0 ? derived : derived with
                {
                    Findings = [.. derived.Findings.Select(finding => UnreadSource.Tell(finding, unread, _shop))],
                }),
        ],
            Changes = state.Output.Changes,
            Cycles = state.Output.Cycles,
            Measurements = state.Output.Measurements,
            Findings = state.Output.Findings,
            Standing =
        [
            .. _machine.Watch.Where(watch => state.Sources.ContainsKey(watch.Index)).SelectMany(watch =>
                RuleBook.JudgeSource(_shop, _machine, watch, state.Sources[watch.Index], horizonUtc)),
        ],
        };

    /// <summary>What stands against the current setup if a program were started now.</summary>
    /// <param name="unread">The sources that cannot be read now.</param>
    public DerivedSetup Ready(
        MachineState state, string? program, DateTimeOffset moment, IReadOnlyList<UnreadSource> unread)
    {
        var live = Current(state, program, moment);
        var judged = _judge.Judge(SetupBuilder.Judge(live, Judgement.Asked, moment, state.Table), state.Table);
        return judged with
        {
            Findings = [.. judged.Findings.Select(finding => UnreadSource.Tell(finding, unread, _shop))],
        };
    }

    /// <summary>Which recorded change explains a part's error, and which cycles ran under it.</summary>
    /// <param name="state">The state when the bad part was cut.</param>
    /// <param name="changes">Every change of the machine, in order.</param>
    /// <param name="cycles">Every cycle of the machine, in order.</param>
    /// <param name="latestUtc">When the machine's sources were last heard of.</param>
    public Trace Trace(
        MachineState state, string? program, PartError error, DateTimeOffset moment,
        IReadOnlyList<Change> changes, IReadOnlyList<Cycle> cycles, DateTimeOffset latestUtc)
    {
        var live = SetupBuilder.Judge(Current(state, program, moment), Judgement.Asked, moment, state.Table);
        var setupCase = _judge.Case(live, state.Table);
        return new Tracer(new TraceEvidence
        {
            AtUtc = moment,
            Case = setupCase,
            Table = state.Table,
            Expected = Expected(setupCase, state.Table),
            Changes = changes,
            Cycles = cycles,
            LatestUtc = latestUtc,
        }, error).Run();
    }

    private static Dictionary<OffsetKey, ExpectedValue> Expected(SetupCase setupCase, OffsetTable table)
    {
        var plausibility = new Plausibility(setupCase);
        return table.States.Keys.Select(key => (Key: key, Usual: plausibility.Of(key)))
            .Where(item => item.Usual is not null)
            .ToDictionary(item => item.Key, item =>
                new ExpectedValue(item.Usual?.Location ?? 0m, item.Usual?.Spread ?? 0, Says(item.Usual)));
    }

    private static string Says(Usual? usual) => usual switch
    {
        { By: { } register } => $"by its usual distance to {register},",
        { Count: 0 } => "the setup sheet's",
        _ => "the usual",
    };

    /// <summary>The current pallet's setup, for the program asked about, else the one in hand.</summary>
    private LiveSetup Current(MachineState state, string? program, DateTimeOffset moment)
    {
        var live = state.Live.GetValueOrDefault(state.Pallet) ?? new LiveSetup
        {
            Id = _machine.Name,
            OpenedUtc = moment,
            LastEventUtc = moment,
            Before = state.Table,
            LastCuts = state.LastCuts,
            LastCycles = state.LastCycles,
            Past = state.Past,
        };
        var asked = program ?? (live.Programs.Count == 0 ? state.InHand : null);
        return asked is null ? live : live with { Programs = [new ProgramInHand(asked, moment)] };
    }

    private DerivedSetup Judged(MachineState state, LiveSetup live, DateTimeOffset horizonUtc) =>
        _judge.Judge(_builder.At(live, horizonUtc, state.Table), state.Table);

    private static void LookAtSource(FoldStep step)
    {
        var source = step.Sighting.Source;
        var sight = SourceWatch.Next(step.State.Sources.GetValueOrDefault(source), step.Sighting);
        step.State = step.State with { Sources = step.State.Sources.SetItem(source, sight) };
        if (step.State.ClocksDisagree is { } says && step.Live is { ClocksDisagree: null } live)
            step.Put(live with { ClocksDisagree = says });
    }
}
