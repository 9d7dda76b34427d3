using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Changes;

/// <summary>Compares what a sighting shows with what is known, and tells what moved, in (from, to].</summary>
public sealed class ChangeFinder(MachineConfig machine)
{
    /// <summary>What moved (without who, why and which setup), and the table afterwards.</summary>
    public (OffsetTable Table, IReadOnlyList<Change> Changes) Dump(
        OffsetTable table, Sighting sighting, Func<DateTimeOffset, OffsetKey, string> name)
    {
        var changes = new List<Change>();
        var states = table.States.ToBuilder();
        foreach (var reading in sighting.Offsets ?? [])
        {
            // A block after a block delete and a position made to read a value prove nothing about the register.
            if (reading.How is ReadingHow.Conditional or ReadingHow.Unresolved) continue;
            states.TryGetValue(reading.Key, out var known);
            if (reading.How == ReadingHow.Adds && known?.Value is null) continue;
            var value = reading.How == ReadingHow.Adds ? known?.Value + reading.Value : reading.Value;
            if (known is not null && known.Value == value)
                states[reading.Key] = Shown(known, sighting);
            else if (known is null || !MayBeOlder(known, value, sighting))
                Move(states, changes, reading.Key, known, value, sighting, reading.Line, name);
        }
        return (new OffsetTable(states.ToImmutable()), changes);
    }

    /// <summary>A print-out says that an offset was set: the same value again is a change of 0.</summary>
    public (OffsetTable Table, Change Change) Touch(
        OffsetTable table, Sighting sighting, OffsetKey key, decimal value, Func<DateTimeOffset, OffsetKey,
            string> name)
    {
        var changes = new List<Change>();
        var states = table.States.ToBuilder();
        states.TryGetValue(key, out var known);
        Move(states, changes, key, known, value, sighting, sighting.Line, name);
        return (new OffsetTable(states.ToImmutable()), changes[0] with { Touched = true });
    }

    private void Move(
        System.Collections.Immutable.ImmutableSortedDictionary<OffsetKey, OffsetState>.Builder states,
        List<Change> changes, OffsetKey key, OffsetState? known, decimal? value, Sighting sighting, int line,
        Func<DateTimeOffset, OffsetKey, string> name)
    {
        var change = new Change
        {
            Id = name(sighting.AtUtc, key),
            Machine = machine.Name,
            Key = key,
            Before = known?.Value,
            After = value,
            Unit = key.UnitOn(machine.Units),
            FromUtc = known?.ShownUtc,
            ToUtc = sighting.AtUtc,
            Arrival = sighting.Arrival,
            Source = sighting.At(line),
        };
        changes.Add(change);
        states[key] = new OffsetState(
            value, sighting.AtUtc, sighting.EarliestUtc, known is null ? null : change.Id, ChangedBy.Unknown,
            change.Source, known?.Value);
    }

    // A copy made hours later may show the state of before a change that a quicker source has already told.
    private static bool MayBeOlder(OffsetState known, decimal? value, Sighting sighting) =>
        sighting.EarliestUtc < known.SinceUtc && value == known.Previous;

    private static OffsetState Shown(OffsetState known, Sighting sighting) =>
        sighting.EarliestUtc > known.ShownUtc ? known with { ShownUtc = sighting.EarliestUtc } : known;
}
