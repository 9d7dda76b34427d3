using SetupAudit.Changes;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;

namespace SetupAudit;

/// <summary>
/// The main path: sightings of a machine, in the order of the moments they speak of, folded into changes, setups and
/// findings.
/// What comes out depends on the sightings, the configuration, the shelves and the horizon alone.
/// </summary>
public sealed class Derivation
{
    private readonly MachineConfig _machine;
    private readonly SetupBuilder _builder;
    private readonly SetupJudge _judge;
    private readonly DumpFolding _dumps;
    private readonly PrintFolding _prints;

    public Derivation(ShopConfig shop, MachineConfig machine, ProgramShelf programs, SheetShelf sheets,
        ToLoadShelf toLoad)
    {
        _machine = machine;
        _builder = new SetupBuilder(shop, machine, MachineSources.TellCycles(shop, machine));
        _judge = new SetupJudge(shop, machine, programs, sheets, _builder);
        var attribution = new Attribution(programs, toLoad);
        _dumps = new DumpFolding(shop, machine, attribution);
        _prints = new PrintFolding(machine, new CycleFolding(machine, programs), _dumps, attribution);
    }

    /// <summary>Nothing is known yet.</summary>
    public MachineState Start() => new() { Machine = _machine.Name };

    /// <summary>The state after one more sighting, which must not come before those already folded.</summary>
    public MachineState Fold(MachineState state, Sighting sighting)
    {
        if (FoldPosition.Of(sighting) < state.Position)
            throw new ArgumentException("a sighting is folded out of order", nameof(sighting));
        var step = new FoldStep(state, sighting, _builder, _judge);
        step.Elapse();
        CompareClocks(step);
        if (sighting.Offsets is not null) _dumps.Fold(step);
        foreach (var measured in sighting.Measured) _prints.Fold(step, measured);
        if (sighting.Print is { } line) _prints.Fold(step, line);
        return step.State;
    }

    /// <summary>All that is derived since the state was last drained, judged as of a horizon.</summary>
    public DerivedMachine Settle(MachineState state, DateTimeOffset horizonUtc) => new()
    {
        Machine = _machine.Name,
        HorizonUtc = horizonUtc,
        Setups = [.. state.Output.Setups, .. state.Live.Values.Select(live => Judged(state, live, horizonUtc))],
        Changes = state.Output.Changes,
        Cycles = state.Output.Cycles,
        Measurements = state.Output.Measurements,
        Findings = state.Output.Findings,
    };

    /// <summary>What stands against the current setup if a program were started now.</summary>
    public DerivedSetup Ready(MachineState state, string? program, DateTimeOffset moment)
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
        if (program is not null) live = live with { Programs = [new ProgramInHand(program, moment)] };
        else if (live.Programs.Count == 0 && state.InHand is { } inHand) live =
            live with { Programs = [new ProgramInHand(inHand, moment)] };
        return _judge.Judge(SetupBuilder.Judge(live, Judgement.Asked, moment, state.Table), state.Table);
    }

    private DerivedSetup Judged(MachineState state, LiveSetup live, DateTimeOffset horizonUtc) =>
        _judge.Judge(_builder.At(live, horizonUtc, state.Table), state.Table);

    private static void CompareClocks(FoldStep step)
    {
        var skews = ClockWatch.Compare(step.State.Skews, step.Sighting);
        if (ReferenceEquals(skews, step.State.Skews)) return;
        step.State = step.State with { Skews = skews };
        if (skews.Count > 0 && step.Live is { ClocksDisagree: null } live) step.Put(
            live with { ClocksDisagree = skews.Values.First() });
    }
}
