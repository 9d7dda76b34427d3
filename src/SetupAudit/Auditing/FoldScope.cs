using SetupAudit.Folding;

namespace SetupAudit.Auditing;

/// <summary>
/// Which rows a fold can still change. What a setup brings forth has the scope of its opening, anything else that of
/// its own moment; nothing folded from a state on reaches behind that state's floor.
/// </summary>
internal static class FoldScope
{
    /// <summary>The earliest scope that folding on from a state may still change.</summary>
    public static DateTimeOffset Floor(MachineState state)
    {
        var floor = state.Position.AtUtc;
        foreach (var live in state.Live.Values)
            if (live.OpenedUtc < floor) floor = live.OpenedUtc;
        return state.Running is { } running && running.StartUtc < floor ? running.StartUtc : floor;
    }

    /// <summary>The state without the output of earlier scopes, which was handed over.</summary>
    public static MachineState From(MachineState state, DateTimeOffset scopeUtc)
    {
        var output = state.Output;
        return state with
        {
            Output = new FoldOutput(
                output.Setups.RemoveAll(derived => derived.Setup.OpenedUtc < scopeUtc),
                output.Changes.RemoveAll(change => change.ToUtc < scopeUtc),
                output.Cycles.RemoveAll(cycle => cycle.StartUtc < scopeUtc),
                output.Measurements.RemoveAll(measurement => measurement.AtUtc < scopeUtc),
                output.Findings.RemoveAll(finding => finding.AtUtc < scopeUtc)),
        };
    }

    /// <summary>How much has been brought forth and not handed over.</summary>
    public static int Weight(MachineState state) =>
        state.Output.Setups.Sum(derived => 1 + derived.Setup.Changes.Count + derived.Setup.Cycles.Count)
        + state.Output.Changes.Count + state.Output.Cycles.Count + state.Output.Findings.Count;
}
