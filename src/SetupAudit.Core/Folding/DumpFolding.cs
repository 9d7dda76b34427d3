using System.Collections.Immutable;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Folding;

/// <summary>Folds a dump: what it shows against what is known.</summary>
internal sealed class DumpFolding(ShopConfig shop, MachineConfig machine, Attribution attribution)
{
    private const int ListedKept = 64;

    private readonly ChangeFinder _finder = new(machine);
    private readonly decimal _adjustmentLimit =
        Length.Convert(shop.Setups.AdjustmentLimit, Unit.Millimetre, machine.Units);

    public void Fold(FoldStep step) => Fold(step, step.Sighting, isWhole: true);

    /// <param name="isWhole">It is all that its source holds, so that what it leaves out may have vanished.</param>
    public void Fold(FoldStep step, Sighting sighting, bool isWhole)
    {
        var before = step.State.Table;
        var (after, found) = _finder.Dump(
            before, sighting, (moment, key) => step.Name(moment, key.ToString(), machine.Name));
        step.State = step.State with { Table = after };
        var losses = Losses(step, sighting, isWhole, before, after);
        var changes = found.Select(change => Explain(step, change, after)).ToList();
        step.RememberPasts(before, changes);
        Place(step, changes, before);
        foreach (var loss in losses)
        {
            var live = step.LiveOrOpened(before);
            step.Put(live with { MassLosses = live.MassLosses.Add(loss) });
        }
    }

    private readonly TimeSpan _longestLimit = shop.Limits
        .Where(limit => Glob.Matches(limit.Machine, machine.Name)).Select(limit => limit.Within ?? TimeSpan.Zero)
        .Append(TimeSpan.Zero).Max();

    /// <summary>Gives each change to the setup it belongs to, opening the next where it must.</summary>
    public void Place(FoldStep step, IReadOnlyList<Change> changes, OffsetTable before)
    {
        // What one dump shows was set together: a small change beside a large one is no adjustment of the last setup.
        if (step.Live is { InProduction: true }
            && changes.Any(change => !change.IsFirstSight && !IsAdjustment(step, change)))
            step.LiveOrOpened(before);
        foreach (var change in changes)
        {
            Mark(step, change);
            if (change.IsFirstSight)
                PlaceFirstSight(step, change);
            else if (step.Live is { InProduction: true } live && IsAdjustment(step, change))
                step.Put(SetupBuilder.Adjust(live, change));
            else
                step.Put(step.Builder.Add(step.LiveOrOpened(before), change));
        }
        foreach (var change in changes) step.Recall(change, _longestLimit);
    }

    // It sets nothing and opens no setup, so where production runs it belongs to none.
    private static void PlaceFirstSight(FoldStep step, Change change)
    {
        if (step.Live is { InProduction: false } live) step.Put(step.Builder.Add(live, change));
        else step.Loose(change);
    }

    private bool IsAdjustment(FoldStep step, Change change) =>
        change.Key.IsWear
        || (change.Delta is { } delta && Math.Abs(delta) <= _adjustmentLimit && !IsTouchOutsideCycle(step, change))
        || attribution.MadeByProgram(change, step.State.Runs);

    // A touch after production opens the next setup however little it moves.
    private static bool IsTouchOutsideCycle(FoldStep step, Change change) =>
        change.Touched && change.Key.IsDatum && !step.CutsNow;

    private Change Explain(FoldStep step, Change change, OffsetTable after)
    {
        var same = change.Key.IsDatum && !change.IsFirstSight && change.Delta != 0m
            ? step.SameAs(after, change.Key.Register)
            : null;
        return attribution.Explain(change with { SameAsUtc = same }, step.State.Touches, step.State.Runs);
    }

    private static void Mark(FoldStep step, Change change)
    {
        if (step.State.Table[change.Key] is { } state && state.Change == change.Id && state.By != change.By)
            step.State = step.State with { Table = step.State.Table.With(change.Key, state with { By = change.By }) };
    }

    private static List<MassLoss> Losses(
        FoldStep step, Sighting sighting, bool isWhole, OffsetTable before, OffsetTable after)
    {
        if (sighting.Offsets is null || sighting.Faults.Count > 0) return [];
        var file = $"{sighting.Source}/{sighting.File}";
        var listedBefore = isWhole ? step.State.Listed.GetValueOrDefault(file, []) : [];
        var lost = MassLossFinder.Lost(before, after, sighting, listedBefore).ToList();
        var back = step.State.LostFrom is { } lostFrom
            ? MassLossFinder.Returned(lostFrom, before, after, sighting).ToList()
            : [];
        var state = isWhole ? RememberListed(step.State, file, Keys(sighting, listedBefore)) : step.State;
        step.State = state with
        {
            LostFrom = lost.Count > 0 ? before : back.Count > 0 ? null : step.State.LostFrom,
        };
        return [.. lost, .. back];
    }

    private static MachineState RememberListed(MachineState state, string file, ImmutableHashSet<OffsetKey> keys)
    {
        var listed = state.Listed.SetItem(file, keys);
        var order = state.ListedOrder;
        if (order.Count > 0 && order[^1] == file) return state with { Listed = listed };
        order = order.Remove(file).Add(file);
        if (order.Count > ListedKept)
        {
            listed = listed.Remove(order[0]);
            order = order.RemoveAt(0);
        }
        return state with { Listed = listed, ListedOrder = order };
    }

    private static ImmutableHashSet<OffsetKey> Keys(Sighting sighting, ImmutableHashSet<OffsetKey> before)
    {
        var offsets = sighting.Offsets ?? [];
        // The usual dump lists what it listed before: then the old set serves on.
        return offsets.Count >= before.Count && before.Count > 0 && offsets.All(reading => before.Contains(reading.Key))
            ? before
            : [.. offsets.Select(reading => reading.Key)];
    }
}
