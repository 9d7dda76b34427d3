using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Shop;
using SetupAudit.Units;

namespace SetupAudit.Setups;

/// <summary>Tells a Z raised for a dry run from a Z that was set: nothing touched it, and it comes on top of a set Z or
/// by a round amount.</summary>
internal sealed class LiftFinder(ShopConfig shop, MachineConfig machine)
{
    // Common practice, no source: people lift by whole steps, 5 mm or a quarter inch and multiples, never by a probed
    // amount.
    private readonly decimal _roundStep = machine.Units == Unit.Inch ? 0.25m : 5m;

    private readonly decimal _least = Length.Convert(shop.Setups.AdjustmentLimit, Unit.Millimetre, machine.Units);

    /// <summary>A lift begins with this change, ends with it, or neither.</summary>
    public LiveSetup Follow(LiveSetup live, Change change)
    {
        if (!change.Key.IsDatum || change.Key.Axis != Axis.Z || change.Before is null
            || change.After is null) return live;
        var standing = live.Lifts.FindLastIndex(lift => lift.Key == change.Key && lift.PutTo is null);
        if (standing >= 0) return Put(live, standing, change);
        return Begins(live, change) ? live with { Lifts = live.Lifts.Add(Begin(change)) } : live;
    }

    private bool Begins(LiveSetup live, Change change)
    {
        if (change.Delta is not { } delta || delta <= _least || IsTouched(change)) return false;
        if (change.Key.Register.IsCommon) return true;
        var setBefore = live.Changes.Take(live.Changes.Count - 1)
            .Any(other => other.Key == change.Key && !other.IsFirstSight);
        return setBefore || delta % _roundStep == 0;
    }

    private static LiveSetup Put(LiveSetup live, int standing, Change change)
    {
        var lift = live.Lifts[standing];
        // Touched anew: the Z was set, and the raised value has no meaning any more.
        if (IsTouched(change)) return live with { Lifts = live.Lifts.RemoveAt(standing) };
        // Still above the start: it came down only part of the way, or went up further.
        if (change.After > lift.Start)
            return live with { Lifts = live.Lifts.SetItem(standing, lift with { Raised = change.After.Value }) };
        return live with
        {
            Lifts = live.Lifts.SetItem(
                standing, lift with { PutTo = change.After, PutUtc = change.ToUtc, PutSource = change.Source }),
            DryRunEndUtc = null,
        };
    }

    private static bool IsTouched(Change change) =>
        change.Touched || change.By is ChangedBy.Measured or ChangedBy.Program;

    private static Lift Begin(Change change) => new()
    {
        Key = change.Key,
        Start = change.Before.GetValueOrDefault(),
        Raised = change.After.GetValueOrDefault(),
        RaisedUtc = change.ToUtc,
        RaisedSource = change.Source,
    };
}
