using System.Security.Cryptography;
using SetupAudit.Evidence;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;
using SetupAudit.Store.Retention;

namespace SetupAudit.Auditing;

/// <summary>
/// Finds what may be dropped before a moment. It only reads. Bytes may go where every arrival that has them is a dump,
/// a print-out or an agent's document of before its machine's line.
/// </summary>
internal sealed class PrunePlanner(ShopConfig shop, StoreReader store)
{
    // As much as the store gives back at once.
    private const int StateMostBytes = 64 * 1024 * 1024;

    private const int PageRows = 1000;

    private readonly WatchIndex _watched = new(shop);
    private readonly Dictionary<string, IReadOnlyList<PruneLine>> _known = new(StringComparer.Ordinal);

    public async Task<PrunePlan> PlanAsync(DateTimeOffset beforeUtc, CancellationToken token)
    {
        var states = new List<MachineState>();
        var lines = new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        foreach (var machine in shop.Machines)
        {
            _known[machine.Name] = await store.Prunings.LinesAsync(machine.Name, token);
            var known = _known[machine.Name].Count == 0 ? null : _known[machine.Name][^1];
            if (known is not null) lines[machine.Name] = known.FromUtc;
            if (await StateAsync(machine, known?.FromUtc, beforeUtc, token) is not { } found) continue;
            lines[machine.Name] = found.FromUtc;
            states.Add(found.State);
        }
        await using var draft = await PruneDraft.BeginAsync(token);
        var arrivals = await LookAsync(lines, beforeUtc, draft, token);
        await store.Prunings.NeededAsync(lines, draft, token);
        await draft.WeighAsync(store.Prunings, token);
        var weights = (await draft.WeightsAsync(token)).ToDictionary(one => one.Machine, StringComparer.Ordinal);
        var gone = await draft.GoneAsync(token);
        return new PrunePlan
        {
            BeforeUtc = beforeUtc,
            Machines = [.. shop.Machines.Select(machine => Share(machine.Name, lines, weights))],
            Lines = [.. states.Select(state => Line(state, lines[state.Machine], arrivals))],
            Sha256s = gone,
            SizeBytes = await draft.SizeBytesAsync(token),
            MovedBytes = await store.Prunings.MovedAsync(gone, token),
        };
    }

    // The line lies before the setup that was open then, so that a setup which goes on keeps its evidence whole.
    private async Task<(DateTimeOffset FromUtc, MachineState State)?> StateAsync(
        MachineConfig machine, DateTimeOffset? knownUtc, DateTimeOffset beforeUtc, CancellationToken token)
    {
        if (beforeUtc <= knownUtc) return null;
        var history = await MachineHistory.OpenAsync(shop, machine, store, token);
        var state = await history.StateAtAsync(beforeUtc.AddTicks(-1), token);
        var fromUtc = state.Live.Count == 0 ? beforeUtc : state.Live.Values.Max(live => live.OpenedUtc);
        if (fromUtc <= knownUtc) return null;
        if (state.Live.Count > 0) state = await history.StateAtAsync(fromUtc.AddTicks(-1), token);
        return state.Position == FoldPosition.Start
            ? null
            : (fromUtc, FoldScope.From(state, FoldScope.Floor(state)));
    }

    // The number of the newest arrival.
    private async Task<long> LookAsync(Dictionary<string, DateTimeOffset> lines, DateTimeOffset beforeUtc,
        PruneDraft draft, CancellationToken token)
    {
        var newest = 0L;
        var page = new List<(Arrival Arrival, bool MayGo)>(PageRows);
        await foreach (var (seq, arrival) in store.ArrivalsAsync(null, 0, token))
        {
            newest = seq;
            if (arrival.Refused is not null) continue;
            page.Add((arrival, lines.TryGetValue(arrival.Machine, out var fromUtc) && arrival.MomentUtc < fromUtc
                && IsFolded(arrival) && !(arrival.ReceivedUtc >= beforeUtc && IsTooLate(seq, arrival))));
            if (page.Count < PageRows) continue;
            await draft.AddAsync(page, token);
            page.Clear();
        }
        await draft.AddAsync(page, token);
        return newest;
    }

    // What is in no state has been told once, as a finding: it is not dropped on the quiet by the next act.
    private bool IsTooLate(long seq, Arrival arrival) => _known[arrival.Machine].Any(line =>
        seq > line.Arrivals && arrival.MomentUtc < line.FromUtc);

    // Programs, sheets and waiting files are looked up long after; what nobody watches is not understood.
    private bool IsFolded(Arrival arrival)
    {
        var watches = _watched.Of(arrival).Select(entry => entry.Watch).ToList();
        return watches.Count > 0 && watches.TrueForAll(watch =>
            watch.Read is not (SourceKind.Program or SourceKind.Sheet) && !watch.IsToLoad);
    }

    private static PruneShare Share(string machine, Dictionary<string, DateTimeOffset> lines,
        Dictionary<string, PruneWeight> weights)
    {
        var own = weights.GetValueOrDefault(machine);
        return new PruneShare(machine, lines.TryGetValue(machine, out var fromUtc) ? fromUtc : null,
            own?.Arrivals ?? 0, own?.SizeBytes ?? 0, own?.LastUtc);
    }

    private (PruneLine, ReadOnlyMemory<byte>) Line(MachineState state, DateTimeOffset fromUtc, long arrivals)
    {
        var bytes = StateText.ToBytes(state);
        if (bytes.Length > StateMostBytes)
            throw new StoreException(StoreFaultKind.Final,
                $"The state of {state.Machine} has {bytes.Length} bytes; {StateMostBytes} can be kept. Nothing was "
                + "dropped; choose an earlier moment.");
        return (new PruneLine
        {
            Machine = state.Machine,
            FromUtc = fromUtc,
            FloorUtc = FoldScope.Floor(state),
            Arrivals = arrivals,
            Reads = PrunedStates.Reads(shop.Machine(state.Machine)
                ?? throw new InvalidOperationException($"{state.Machine} is not in the configuration")),
            StateSha256 = Convert.ToHexStringLower(SHA256.HashData(bytes)),
        }, bytes);
    }
}
