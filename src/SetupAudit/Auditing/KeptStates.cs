using System.Text.Json;
using Serilog;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// The states of a machine's fold that are kept on disk, for the next start and for what comes very late. One is kept
/// only when every row of scopes before its floor is recorded.
/// </summary>
internal sealed class KeptStates(MachineConfig machine, AuditStore store, StoreReader evidence)
{
    // The newest are all kept; of older ones, every second is let go when there are too many.
    private const int Most = 256;
    private const int NewestKept = 64;

    /// <summary>The place of the last one kept since the start of the program.</summary>
    public FoldPosition? Last { get; private set; }

    /// <summary>
    /// The latest that has not seen a place (null for the latest of all); null where none is of use. Where evidence was
    /// dropped, none is earlier than the state kept then.
    /// </summary>
    public async Task<MachineState?> BeforeAsync(SightingPosition? place, CancellationToken token)
    {
        var kept = await store.Reader.LatestKeptAsync(machine.Name, place is null ? null : JustBefore(place), token);
        if (kept is null) return await PrunedStates.OfAsync(evidence, machine, token);
        try
        {
            return StateText.FromBytes(kept.State);
        }
        catch (JsonException fault)
        {
            Log.Warning(fault, "Kept state of {Machine} cannot be read; folding from the beginning", machine.Name);
            await store.ForgetStatesAfterAsync(machine.Name, SightingPosition.Before(DateTimeOffset.MinValue), token);
            return await PrunedStates.OfAsync(evidence, machine, token);
        }
    }

    public async Task KeepAsync(MachineState state, CancellationToken token)
    {
        if (TimeLine.Stored(state.Position) is not { } place || Last == state.Position) return;
        await store.KeepStateAsync(machine.Name, place, StateText.ToBytes(state), token);
        Last = state.Position;
        var places = await store.Reader.KeptPositionsAsync(machine.Name, token);
        if (places.Count <= Most) return;
        var thinned = places.Take(places.Count - NewestKept).Where((_, index) => index % 2 == 1).ToList();
        await store.ForgetStatesAsync(machine.Name, thinned, token);
    }

    /// <summary>Lets go of those that have seen a place.</summary>
    public Task ForgetFromAsync(SightingPosition place, CancellationToken token)
    {
        Last = null;
        return store.ForgetStatesAfterAsync(machine.Name, JustBefore(place), token);
    }

    private static SightingPosition JustBefore(SightingPosition place) => place with { Line = place.Line - 1 };
}
