using System.Collections.Immutable;
using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Findings;
using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Folding;

/// <summary>One sighting being folded in: the state as it grows, with the small moves that dumps and print-outs
/// share.</summary>
internal sealed class FoldStep(MachineState start, Sighting sighting, SetupBuilder builder, SetupJudge judge)
{
    private const int PastsKept = 40;
    private const int RecentKept = 2000;

    public MachineState State { get; set; } = start with { OpenedHere = false, Position = FoldPosition.Of(sighting) };

    public Sighting Sighting => sighting;

    public DateTimeOffset Now => sighting.AtUtc;

    public SetupBuilder Builder => builder;

    public LiveSetup? Live => State.Live.GetValueOrDefault(State.Pallet);

    /// <summary>A cycle runs whose program cuts, as far as is known.</summary>
    public bool CutsNow => State.Running is { CutsNothing: false };

    /// <summary>Sets the current pallet's setup.</summary>
    public void Put(LiveSetup live) => State = State with { Live = State.Live.SetItem(State.Pallet, live) };

    /// <summary>Lets quiet pass for every pallet before the sighting counts.</summary>
    public void Elapse()
    {
        foreach (var (pallet, live) in State.Live)
        {
            var elapsed = builder.Elapse(live, Now, State.Table);
            if (!ReferenceEquals(elapsed, live)) State = State with { Live = State.Live.SetItem(pallet, elapsed) };
        }
    }

    /// <summary>The setup that a change, touch or measurement of now belongs to; the next one opens where it
    /// must.</summary>
    public LiveSetup LiveOrOpened(OffsetTable before)
    {
        var live = Live;
        if (live is not null && !builder.OpensNext(live, Now)) return live;
        var previous = live is null ? null : Finish(builder.Abandon(WithoutRunning(live), before), before);
        State = Teaching.AsReviewed(State, judge.Reviews, Now);
        var opened = new LiveSetup
        {
            Id = Name(Now, "", State.Machine),
            Pallet = State.Pallet.Length == 0 ? null : State.Pallet,
            OpenedUtc = Now,
            LastEventUtc = Now,
            Before = before,
            Setter = State.Setter,
            LastCuts = State.LastCuts,
            LastCycles = State.LastCycles,
            Past = State.Past,
            ClocksDisagree = State.ClocksDisagree,
            Previous = previous is null ? null : previous with { Before = OffsetTable.Empty, Reviews = [] },
            RecentChanges = State.Recent,
            Programs = State.Running is { CutsNothing: false, Program: { } program }
                ? [new ProgramInHand(program, Now)]
                : [],
        };
        // A cycle that runs on goes on under the new setup, and is its.
        if (State.Running is { } running)
        {
            running = running with { Setup = opened.Id };
            State = State with { Running = running };
            opened = opened with { Cycles = [running] };
        }
        State = State with { OpenedHere = true };
        Put(opened);
        return opened;
    }

    private LiveSetup WithoutRunning(LiveSetup live) => State.Running is not { } running
        ? live
        : live with
        {
            Cycles =
            live.Cycles.RemoveAll(cycle => cycle.StartUtc == running.StartUtc && cycle.EndUtc is null)
        };

    /// <summary>A setup is over: it is judged for good, and teaches where nobody doubts it.</summary>
    private Setup Finish(LiveSetup live, OffsetTable table)
    {
        var derived = judge.Judge(live, table, Now);
        State = Teaching.Graded(State, derived, Now) with
        {
            Output = State.Output with { Setups = State.Output.Setups.Add(derived) },
            FirstAsked = Asked(derived),
        };
        return derived.Setup;
    }

    private ImmutableSortedDictionary<string, DateTimeOffset> Asked(DerivedSetup derived)
    {
        var asked = State.FirstAsked;
        foreach (var use in derived.Programs)
            if (!asked.ContainsKey(use.Program)) asked = asked.Add(use.Program, derived.Setup.OpenedUtc);
        return asked;
    }

    /// <summary>Remembers the registers a sighting moved, as they were before it.</summary>
    public void RememberPasts(OffsetTable before, IEnumerable<Change> changes)
    {
        foreach (var register in changes
            .Where(change => change.Key.IsDatum && !change.IsFirstSight && change.Delta != 0m)
            .Select(change => change.Key.Register).Distinct())
        {
            var pasts = State.Pasts.GetValueOrDefault(register, []).Add(RegisterPast.Of(before, register));
            if (pasts.Count > PastsKept) pasts = pasts.RemoveAt(0);
            State = State with { Pasts = State.Pasts.SetItem(register, pasts) };
        }
    }

    /// <summary>When a register last stood exactly as a table has it now; null where it never did.</summary>
    public DateTimeOffset? SameAs(OffsetTable after, Register register)
    {
        var now = RegisterPast.Of(after, register);
        return State.Pasts.GetValueOrDefault(register, []).LastOrDefault(now.Matches)?.ShownUtc;
    }

    /// <summary>Keeps a change for limits that sum over a time.</summary>
    public void Recall(Change change, TimeSpan longest)
    {
        if (longest == TimeSpan.Zero || change.IsFirstSight) return;
        var recent = State.Recent.Add(change);
        while (recent.Count > RecentKept || (recent.Count > 0 && recent[0].ToUtc < Now - longest)) recent =
            recent.RemoveAt(0);
        State = State with { Recent = recent };
    }

    public void Loose(Change change) =>
        State = State with { Output = State.Output with { Changes = State.Output.Changes.Add(change) } };

    public void Loose(Cycle cycle) =>
        State = State with { Output = State.Output with { Cycles = State.Output.Cycles.Add(cycle) } };

    public void Loose(Finding finding) =>
        State = State with { Output = State.Output with { Findings = State.Output.Findings.Add(finding) } };

    /// <summary>machine@moment/key for a change, machine@moment for a setup; a second of the same name gets
    /// #2.</summary>
    public string Name(DateTimeOffset moment, string key, string machine)
    {
        var second = new DateTimeOffset(moment.Ticks - moment.Ticks % TimeSpan.TicksPerSecond, TimeSpan.Zero);
        var given = State.GivenUtc == second ? State.GivenIds : State.GivenIds.Clear();
        var name = string.Create(
            CultureInfo.InvariantCulture, $"{machine}@{moment:yyyyMMdd-HHmmss}{(key.Length == 0 ? "" : "/")}{key}");
        var count = given.GetValueOrDefault(name) + 1;
        State = State with { GivenIds = given.SetItem(name, count), GivenUtc = second };
        return count == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{name}#{count}");
    }
}
