using System.Globalization;
using SetupAudit.Changes;
using SetupAudit.Datums;
using SetupAudit.Readings;
using SetupAudit.Setups;

namespace SetupAudit.Tracing;

/// <summary>The window in which parts may have been cut under a wrong offset, and the cycles in it.</summary>
internal sealed class WindowFinder(TraceEvidence evidence)
{
    /// <summary>From the earliest moment the offset can have become wrong to its undoing, else to the latest
    /// evidence.</summary>
    public SuspectWindow Window(Suspect suspect)
    {
        var began = Began(suspect);
        var (from, certainFrom) = suspect.Stale || began is null
            ? (evidence.OpenedUtc, evidence.CuttingUtc ?? evidence.OpenedUtc)
            : (Earliest(began) ?? began.ToUtc, began.ToUtc);
        var since = suspect.Change is { } change && change.ToUtc > evidence.AtUtc ? change.ToUtc : evidence.AtUtc;
        var undoing = evidence.Changes.FirstOrDefault(
            item => item.Key == suspect.Key && item.ToUtc > since && !suspect.IsStillWrong(item.After));
        return undoing is null
            ? new SuspectWindow(from, certainFrom, evidence.LatestUtc, evidence.LatestUtc, Undone: false)
            : new SuspectWindow(from, certainFrom, undoing.FromUtc ?? evidence.AtUtc, undoing.ToUtc, Undone: true);
    }

    // A print-out tells the moment a value was touched in; what only a dump shows may have come any time since the
    // last.
    // Of an undoing that is not said: the wrong value may have gone unseen before the touch that brought the right one.
    private static DateTimeOffset? Earliest(Change change) => change.Touched ? change.ToUtc : change.FromUtc;

    // A wrong value that was trimmed a little afterwards has been wrong since before the trim.
    private Change? Began(Suspect suspect)
    {
        var began = suspect.Change;
        while (began is not null && suspect.IsStillWrong(began.Before)
            && evidence.Changes.LastOrDefault(
                item => item.Key == suspect.Key && !item.IsFirstSight && item.ToUtc < began.ToUtc) is { } earlier
            && earlier.ToUtc >= evidence.OpenedUtc)
            began = earlier;
        return began;
    }

    /// <summary>The cycles that ran in the window with the offset in force.</summary>
    public IReadOnlyList<ExposedCycle> Exposed(SuspectWindow window, OffsetKey key) =>
    [
        .. evidence.Cycles.Where(
            cycle => cycle.StartUtc <= window.ToUtc && (cycle.EndUtc ?? cycle.StartUtc) >= window.FromUtc)
            .Select(cycle => (Cycle: cycle, Depends: Depends(cycle, key))).Where(item => item.Depends != false)
            .Select(item => new ExposedCycle(
                item.Cycle, item.Depends == true && item.Cycle.StartUtc >= window.CertainFromUtc
                && item.Cycle.EndUtc is { } end && end <= window.CertainToUtc)),
    ];

    public Cycle? LastGood(SuspectWindow window, OffsetKey key) => evidence.Cycles.LastOrDefault(cycle =>
        cycle.Ended == CycleEnding.Finished && !cycle.UnderLift && cycle.EndUtc <= window.FromUtc
            && Depends(cycle, key) == true);

    public Cycle? FirstAfter(SuspectWindow window, OffsetKey key) => window.Undone
        ? evidence.Cycles.FirstOrDefault(cycle => cycle.StartUtc >= window.ToUtc && Depends(cycle, key) != false)
        : null;

    /// <summary>All only where the sources tell cycles, were heard of through the window, and each cycle in it has its
    /// program and end.</summary>
    public CyclesKnown Known(SuspectWindow? window)
    {
        if (!evidence.Case.TellsCycles) return CyclesKnown.None;
        if (window is null || evidence.Cycles.Count == 0) return CyclesKnown.Some;
        var within = evidence.Cycles
            .Where(cycle => cycle.StartUtc <= window.ToUtc && (cycle.EndUtc ?? cycle.StartUtc) >= window.FromUtc);
        var whole = evidence.Cycles[0].StartUtc <= window.CertainFromUtc
            || evidence.Changes.Any(change => change.ToUtc <= window.FromUtc);
        return whole && within.All(cycle => cycle is { Program: not null, EndUtc: not null }) ? CyclesKnown.All
            : CyclesKnown.Some;
    }

    /// <summary>What no source could record of an offset, in sentences.</summary>
    public IReadOnlyList<string> NotRecorded(OffsetKey? key)
    {
        var says = new List<string>();
        foreach (var use in evidence.Case.Programs.Where(use => use.Scope is not null))
        {
            var writes = use.Scope?.Writes
                .FirstOrDefault(write => write.Key.IsDatum && (key is null || write.Key == key));
            var probes = use.Scope?.Probing
                .FirstOrDefault(move => move.Sets.Count > 0
                    && (key is null || (key.Value.IsDatum && move.Sets.Contains(key.Value.Axis))));
            if (writes is null && probes is null) continue;
            var what = writes is null ? "a datum by probing" : writes.Key.ToString();
            var line = (writes?.Line ?? probes?.Line ?? 0).ToString(CultureInfo.InvariantCulture);
            says.Add($"{use.Program} sets {what} itself in every cycle (line {line}): "
                + "the values between two dumps are not recorded");
        }
        if (!evidence.Case.TellsCycles) says.Add(
            "no source of this machine tells cycles: which parts ran is not recorded");
        return says;
    }

    // Whether a cycle's program works with the offset; null where its text, or a called program's, is not known.
    private bool? Depends(Cycle cycle, OffsetKey key)
    {
        if (cycle.Program is null
            || evidence.Case.Shelf.Scope(cycle.Program, cycle.StartUtc) is not { } scope) return null;
        if (key.IsTool)
            return scope.Tools.Any(
                tool => tool.Tool == key.Tool || tool.Length == key.Tool || tool.Diameter == key.Tool)
                ? true
                : scope.Missing.Count > 0 ? null : false;
        if (key.Register.IsCommon || key.Register.IsG92) return true;
        return Cuts(scope, key.Register);
    }

    private static bool? Cuts(ProgramScope scope, Register register)
    {
        var found = scope.Registers.FirstOrDefault(item => item.Register == register);
        return found is null ? scope.Missing.Count > 0 ? null : false : found.Cuts;
    }
}
