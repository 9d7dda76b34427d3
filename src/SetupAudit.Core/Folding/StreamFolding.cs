using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Shop;

namespace SetupAudit.Folding;

/// <summary>
/// Folds what the documents of an agent say of one moment, each observation once: offsets as a dump that shows only
/// what moved, execution as the lines of a print-out.
/// </summary>
internal sealed class StreamFolding(
    ShopConfig shop, MachineConfig machine, DumpFolding dumps, StreamCycles cycles)
{
    /// <summary>What of the moment is new; null where nothing is, and the sighting leaves no trace.</summary>
    public static StreamMoment? News(MachineState state, Sighting sighting)
    {
        if (sighting.Stream is not { } moment) return null;
        var known = state.Streams.GetValueOrDefault(sighting.Source);
        var fresh = known is not null && known.AtUtc == sighting.AtUtc ? moment.Without(known.Told) : moment;
        return fresh.Observed.Count > 0 || fresh.IsEnd ? fresh : null;
    }

    public void Fold(FoldStep step, StreamMoment moment)
    {
        var stream = step.State.Streams.GetValueOrDefault(step.Sighting.Source) ?? new StreamState();
        if (stream.AtUtc != step.Now) stream = stream with { AtUtc = step.Now, Told = [] };
        stream = Follow(step, stream, moment) with { Told = stream.Told.Union(moment.Names), LastUtc = step.Now };
        foreach (var observation in moment.Observed)
            stream = observation.Means is StreamMeaning.Offsets or StreamMeaning.Unavailable
                ? TakeOffsets(step, stream, moment.Range.Instance, observation)
                : cycles.Take(step, stream, observation);
        if (moment.Shows is { } shows) stream = Confirm(step, stream, moment.Range.Instance, shows);
        step.State = step.State with { Streams = step.State.Streams.SetItem(step.Sighting.Source, stream) };
    }

    // What a document still shows of long ago says nothing of where it begins.
    private StreamState Follow(FoldStep step, StreamState stream, StreamMoment moment)
    {
        var range = moment.Range;
        var known = stream.Instances.Find(one => one.Instance == range.Instance);
        var isOld = !moment.IsEnd && moment.Observed.All(one => one.Sequence < range.From);
        if (known is null)
        {
            if (stream.Instances.Count > 0)
            {
                if (RuleBook.JudgeRestart(shop, machine, step.Sighting, stream.LastUtc) is { } restart)
                    step.Loose(restart);
                stream = Break(step, stream, moment.Line);
            }
            return stream.With(new StreamInstance(range.Instance, isOld ? null : range.Next, range.IsSnapshot));
        }
        if (isOld) return stream;
        if (range.From > known.Next)
        {
            // Between two snapshots something is always unseen; where they are all there is, that is no loss.
            if (!(known.BySnapshot && range.IsSnapshot)
                && RuleBook.JudgeLoss(shop, machine.Name, step.Sighting, known.Next.Value, range.From) is { } loss)
                step.Loose(loss);
            stream = Break(step, stream, moment.Line);
        }
        return range.Next is { } next && !(next < known.Next)
            ? stream.With(new StreamInstance(range.Instance, next, range.IsSnapshot))
            : stream;
    }

    private StreamState Break(FoldStep step, StreamState stream, int line) => cycles.Break(step, stream, line) with
    {
        Items = stream.Items.ToImmutableSortedDictionary(
            pair => pair.Key, pair => pair.Value with { Stands = false }, StringComparer.Ordinal),
    };

    private StreamState TakeOffsets(FoldStep step, StreamState stream, ulong instance, StreamObservation observation)
    {
        var item = stream.Items.GetValueOrDefault(observation.Item, StreamItem.Nothing);
        if (observation.Means == StreamMeaning.Unavailable)
            return With(StreamItem.Nothing with { Instance = instance, Sequence = observation.Sequence });
        dumps.Fold(step, step.Sighting with { Offsets = observation.Offsets, Stream = null }, isWhole: false);
        // An entry is sent whole: what it no longer holds of a register or tool is unknown.
        var entries = observation.Offsets.Select(reading => Owner(reading.Key)).ToHashSet();
        var values = item.Values.RemoveRange(item.Values.Keys.Where(key => entries.Contains(Owner(key))));
        return With(new StreamItem(instance, observation.Sequence, true, values.SetItems(
            observation.Offsets.Select(reading => KeyValuePair.Create(reading.Key, reading.Value)))));

        StreamState With(StreamItem value) => stream with { Items = stream.Items.SetItem(observation.Item, value) };
    }

    private static (bool IsTool, int Number) Owner(OffsetKey key) =>
        (key.IsTool, key.IsTool ? key.Tool : key.Register.Number);

    // An agent sends changes alone. What it told and has not changed stands up to the end of the document.
    private static StreamState Confirm(
        FoldStep step, StreamState stream, ulong instance, IReadOnlyList<StreamShown> shows)
    {
        foreach (var shown in shows)
            if (stream.Items.TryGetValue(shown.Item, out var item) && item.Instance == instance
                && item.Sequence == shown.Sequence && !item.Stands && item.Values.Count > 0)
                stream = stream with { Items = stream.Items.SetItem(shown.Item, item with { Stands = true }) };
        var states = step.State.Table.States.ToBuilder();
        foreach (var item in stream.Items.Values.Where(item => item.Stands && item.Instance == instance))
            foreach (var (key, value) in item.Values)
                if (states.TryGetValue(key, out var known) && known.Value == value && known.ShownUtc < step.Now)
                    states[key] = known with { ShownUtc = step.Now };
        step.State = step.State with { Table = new OffsetTable(states.ToImmutable()) };
        return stream;
    }
}
