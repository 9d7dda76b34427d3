using SetupAudit.Changes;
using SetupAudit.Shop;

namespace SetupAudit.Setups;

/// <summary>When a setup opens, pauses, rejoins and closes (contract 4a; docs/setups.md). Pure steps on one live
/// setup.</summary>
public sealed class SetupBuilder(ShopConfig shop, MachineConfig machine, bool tellsCycles)
{
    private readonly LiftFinder _lifts = new(shop, machine);

    public TimeSpan Quiet { get; } = TimeSpan.FromMinutes(shop.Setups.QuietMinutes);

    public TimeSpan Rejoin { get; } = TimeSpan.FromHours(shop.Setups.RejoinHours);

    /// <summary>Time has come to a moment: where no source tells cycles, quiet closes a setup.</summary>
    public LiveSetup Elapse(LiveSetup live, DateTimeOffset moment, OffsetTable table)
    {
        if (tellsCycles || live.InProduction || moment <= live.LastEventUtc + Quiet) return live;
        return Close(Judge(live, Judgement.WentQuiet, live.LastEventUtc + Quiet, table), live.LastEventUtc + Quiet);
    }

    /// <summary>Whether a change, touch or measurement at this moment begins the next setup instead of going on with
    /// this one.</summary>
    public bool OpensNext(LiveSetup? live, DateTimeOffset moment) =>
        live is null || live.InProduction
        || (live.CuttingUtc is null && moment > live.LastEventUtc + Rejoin);

    /// <summary>A setup that never came to cut and was left longer than may rejoin: it ends where it went
    /// quiet.</summary>
    public LiveSetup Abandon(LiveSetup live, OffsetTable table) => live.InProduction
        ? live
        : Close(Judge(live, Judgement.WentQuiet, live.LastEventUtc + Quiet, table), live.LastEventUtc + Quiet);

    /// <summary>Takes in a change before production.</summary>
    public LiveSetup Add(LiveSetup live, Change change)
    {
        var named = change with { Setup = live.Id };
        var added = live with { Changes = live.Changes.Add(named) };
        if (change.IsFirstSight) return added;
        added = added with { LastEventUtc = Later(live.LastEventUtc, change.ToUtc) };
        return _lifts.Follow(added, named);
    }

    public static LiveSetup Adjust(LiveSetup live, Change change) =>
        live with { Adjustments = live.Adjustments.Add(change with { Setup = live.Id }) };

    public static LiveSetup Add(LiveSetup live, Touch touch) => live with
    {
        Touches = live.Touches.Add(touch),
        LastEventUtc = live.InProduction ? live.LastEventUtc : Later(live.LastEventUtc, touch.AtUtc),
    };

    public static LiveSetup Add(LiveSetup live, Measurement measurement) => live with
    {
        Measurements = live.Measurements.Add(measurement with { Setup = live.Id }),
        LastEventUtc = live.InProduction ? live.LastEventUtc : Later(live.LastEventUtc, measurement.AtUtc),
    };

    public static LiveSetup Hand(LiveSetup live, string program, DateTimeOffset moment) =>
        live.Programs.Any(item => item.Program == program)
            ? live
            : live with { Programs = live.Programs.Add(new ProgramInHand(program, moment)) };

    /// <summary>A cycle begins: the setup is judged as it stands, unless a lift stands, which a dry run
    /// wants.</summary>
    public static LiveSetup Start(LiveSetup live, Cycle cycle, OffsetTable table)
    {
        if (cycle.CutsNothing) return live with { Cycles = live.Cycles.Add(cycle with { Setup = live.Id }) };
        var started = live;
        // A second run under the same lift is no dry run any more: production began with the first.
        if (started.DryRunEndUtc is { } dryRunEnd && started.LiftStands) started = Close(started, dryRunEnd);
        started = started with
        {
            CuttingUtc = started.CuttingUtc ?? cycle.StartUtc,
            DryRunEndUtc = null,
            Cycles = started.Cycles.Add(cycle with { Setup = live.Id, UnderLift = started.LiftStands }),
        };
        if (started.InProduction
            || (started.Judged == Judgement.CuttingStarted && !started.JudgedUnderLift)) return started;
        return Judge(started, Judgement.CuttingStarted, cycle.StartUtc,
            table) with
        { JudgedUnderLift = started.LiftStands };
    }

    /// <summary>A cycle of the setup ends; the first that runs to its end without a lift starts production.</summary>
    public static LiveSetup End(LiveSetup live, Cycle cycle, OffsetTable table)
    {
        var index = live.Cycles.FindLastIndex(known => known.StartUtc == cycle.StartUtc && known.EndUtc is null);
        var ended = index < 0 ? live
            : live with
            {
                Cycles =
                live.Cycles.SetItem(index, live.Cycles[index] with { EndUtc = cycle.EndUtc, Ended = cycle.Ended })
            };
        if (ended.InProduction || cycle.CutsNothing || cycle.Ended != CycleEnding.Finished
            || cycle.EndUtc is not { } endUtc) return ended;
        // It opened while this cycle ran: cutting went on under it.
        if (ended.CuttingUtc is null)
            ended = Judge(ended with { CuttingUtc = endUtc }, Judgement.CuttingStarted, endUtc, table);
        var underLift = index >= 0 && ended.Cycles[index].UnderLift && ended.LiftStands;
        return underLift ? ended with { DryRunEndUtc = endUtc } : Close(ended, endUtc);
    }

    public static LiveSetup Judge(LiveSetup live, Judgement because, DateTimeOffset moment, OffsetTable table) =>
        live with { Judged = because, JudgedUtc = moment, AtJudgement = table };

    /// <summary>The setup as it is at the horizon: what rests on quiet is judged once the horizon has passed
    /// it.</summary>
    public LiveSetup At(LiveSetup live, DateTimeOffset horizonUtc, OffsetTable table)
    {
        if (live.InProduction) return live;
        if (live.DryRunEndUtc is { } dryRunEnd && live.LiftStands
            && horizonUtc > Later(dryRunEnd, live.LastEventUtc) + Quiet)
            return Close(live, dryRunEnd);
        if (live.CuttingUtc is not null || horizonUtc < live.LastEventUtc + Quiet) return live;
        var judged = Judge(live, Judgement.WentQuiet, live.LastEventUtc + Quiet, table);
        var over = !tellsCycles || horizonUtc > live.LastEventUtc + Rejoin;
        return over ? Close(judged, live.LastEventUtc + Quiet) : judged;
    }

    private static LiveSetup Close(LiveSetup live, DateTimeOffset moment) => live with { ClosedUtc = moment };

    private static DateTimeOffset Later(DateTimeOffset left, DateTimeOffset right) => left > right ? left : right;

    /// <summary>The finished record of a live setup.</summary>
    public Setup Finish(LiveSetup live, OffsetTable now) => new()
    {
        Id = live.Id,
        Machine = machine.Name,
        Pallet = live.Pallet,
        OpenedUtc = live.OpenedUtc,
        LastEventUtc = live.LastEventUtc,
        CuttingUtc = live.CuttingUtc,
        ClosedUtc = live.ClosedUtc,
        Judged = live.Judged,
        JudgedUtc = live.JudgedUtc,
        Before = live.Before,
        After = live.AtJudgement ?? now,
        Changes = live.Changes,
        Adjustments = live.Adjustments,
        Touches = live.Touches,
        Measurements = live.Measurements,
        Alarms = live.Alarms,
        Cycles = live.Cycles,
        Lifts = live.Lifts,
        MassLosses = live.MassLosses,
        Programs = [.. live.Programs.Select(item => item.Program)],
        Setter = live.Setter,
        ClocksDisagree = live.ClocksDisagree,
    };
}
