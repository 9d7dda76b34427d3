using System.Collections.Immutable;
using SetupAudit.Datums;
using SetupAudit.Folding;
using SetupAudit.Readings;
using SetupAudit.Tracing;

namespace SetupAudit.Accuracy.Shops;

/// <summary>Writes down what a machine's sources would show, as sightings in the order of their moments, and folds them
/// as they come.</summary>
internal sealed class Diary(Derivation derivation, MachineState state)
{
    private int _line;
    private int _dumps;

    public MachineState State { get; private set; } = state;

    /// <summary>A diary that goes on from here on its own.</summary>
    public Diary Branch() => Branch(derivation);

    /// <summary>The same, judged by another shop's configuration or reviews.</summary>
    public Diary Branch(Derivation by) => new(by, State) { _line = _line, _dumps = _dumps, Finished = Finished };

    /// <summary>The control writes out all it holds.</summary>
    public void Dump(DateTimeOffset moment, IReadOnlyDictionary<OffsetKey, decimal> control)
    {
        var text = MachineMaker.Text(++_dumps);
        var line = 0;
        Fold(new Sighting
        {
            AtUtc = moment,
            EarliestUtc = moment,
            Source = 0,
            File = "dumps/offsets.nc",
            Sha256 = "dump " + text,
            Line = 0,
            Arrival = "dump " + text,
            Offsets = [.. control.Select(
                pair => new OffsetReading(++line, 1, pair.Key, pair.Value, ReadingHow.Stands))],
        });
    }

    public void Print(DateTimeOffset moment, PrintMeaning means, Func<PrintLine, PrintLine>? with = null)
    {
        var line = new PrintLine { Line = ++_line, Means = means, AtUtc = moment };
        Fold(new Sighting
        {
            AtUtc = moment,
            EarliestUtc = moment,
            Source = 1,
            File = "prints/machine.log",
            Sha256 = "prints",
            Line = line.Line,
            Arrival = "prints",
            Print = with is null ? line : with(line),
        });
    }

    /// <summary>What is derived of the setup that is live now.</summary>
    public DerivedSetup? Judged(DateTimeOffset horizonUtc) =>
        derivation.Settle(State, horizonUtc, []).Setups is [.., var last] ? last : null;

    /// <summary>The setups that are over, in order.</summary>
    public ImmutableList<DerivedSetup> Finished { get; private set; } = [];

    /// <summary>Puts aside what is finished, so that it is not carried along.</summary>
    public void Drain()
    {
        Finished = Finished.AddRange(State.Output.Setups);
        State = State.Drained();
    }

    /// <summary>What explains an error of a part that was cut at a moment, asked when all is known.</summary>
    /// <param name="then">The state at that moment.</param>
    public Trace Trace(
        MachineState then, string program, PartError error, DateTimeOffset moment, DateTimeOffset latestUtc)
    {
        var setups = Finished.AddRange(derivation.Settle(State, latestUtc, []).Setups).ConvertAll(item => item.Setup);
        var changes = setups.SelectMany(setup => setup.Changes.Concat(setup.Adjustments));
        var cycles = setups.SelectMany(setup => setup.Cycles.Where(cycle => cycle.Setup == setup.Id));
        return derivation.Trace(then, program, error, moment, [.. changes.OrderBy(change => change.ToUtc)],
            [.. cycles.OrderBy(cycle => cycle.StartUtc)], latestUtc);
    }

    private void Fold(Sighting sighting) => State = derivation.Fold(State, sighting);
}
