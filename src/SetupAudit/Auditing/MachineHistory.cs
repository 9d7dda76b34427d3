using System.Globalization;
using System.Text.Json;
using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// What was known of a machine at any moment, folded from what is kept and read so far, beside a service that writes or
/// without one. Nothing is changed or recorded.
/// </summary>
public sealed class MachineHistory
{
    private readonly StoreReader _store;
    private readonly MachineConfig _machine;
    private readonly TimeLine _timeLine;
    private readonly ShopClock _clock;
    private readonly string _zone;

    private MachineHistory(
        ShopConfig shop, StoreReader store, MachineConfig machine, TimeLine timeLine, Derivation derivation)
    {
        (_clock, _zone) = (new ShopClock(shop), shop.TimeZone);
        (_store, _machine, _timeLine) = (store, machine, timeLine);
        Derivation = derivation;
    }

    /// <summary>The machine's fold, with the programs, sheets and waiting files that were read.</summary>
    public Derivation Derivation { get; }

    /// <summary>The sources that could not be read when the record was last derived.</summary>
    public required IReadOnlyList<UnreadSource> Unread { get; init; }

    public static async Task<MachineHistory> OpenAsync(
        ShopConfig shop, MachineConfig machine, StoreReader store, CancellationToken token)
    {
        var reader = new ArrivalReader(shop, store);
        var shelves = new Shelves(new SheetShelf(), await Shelves.ReviewsAsync(store, token));
        await shelves.LoadAsync(SheetFindings.Sheets, store, reader, token);
        await shelves.LoadAsync(machine.Name, store, reader, token);
        var derivation = new Derivation(shop, machine, shelves.Programs, shelves.Sheets, shelves.ToLoad,
            shelves.Reviews);
        return new MachineHistory(shop, store, machine, new TimeLine(machine, store, store, reader), derivation)
        {
            Unread = new SourceGaps(await store.GapsAsync(machine.Name, token)).Unread(machine),
        };
    }

    /// <summary>The state after the last sighting of a moment or before; the latest of all for null.</summary>
    public async Task<MachineState> StateAtAsync(DateTimeOffset? momentUtc, CancellationToken token)
    {
        var state = await StartAsync(momentUtc, token);
        await foreach (var sighting in _timeLine.AfterAsync(state.Position, token))
        {
            if (sighting.AtUtc > momentUtc) break;
            state = Derivation.Fold(state, sighting);
        }
        return state;
    }

    // A kept state serves if it has seen nothing later than the moment, and nothing that must be folded again.
    private async Task<MachineState> StartAsync(DateTimeOffset? momentUtc, CancellationToken token)
    {
        if (await _store.Prunings.LineAsync(_machine.Name, token) is { } line && momentUtc < line.FromUtc)
            throw new StoreException(StoreFaultKind.Final, string.Create(CultureInfo.InvariantCulture,
                $"The evidence of {_machine.Name} before {_clock.InShop(line.FromUtc):yyyy-MM-dd HH:mm:ss} "
                + $"({_zone}) was dropped, so its state "
                + $"before that cannot be folded; 'list trail' says when, by whom and why. What was recorded of that "
                + $"time stands in 'list', 'state' and 'report'."));
        var dirty = await _store.DirtyAsync(_machine.Name, token);
        SightingPosition? until = momentUtc is { } moment ? new(moment, int.MaxValue, "", "", 0) : null;
        if (dirty is not null && (until is null || dirty.From <= until))
            until = dirty.From with { Line = dirty.From.Line - 1 };
        if (await _store.LatestKeptAsync(_machine.Name, until, token) is not { } kept)
            return await BeginningAsync(token);
        try
        {
            return StateText.FromBytes(kept.State);
        }
        catch (JsonException)
        {
            // Another version of the program wrote it: the fold begins at the beginning, and takes longer.
            return await BeginningAsync(token);
        }
    }

    private async Task<MachineState> BeginningAsync(CancellationToken token) =>
        await PrunedStates.OfAsync(_store, _machine, token) ?? Derivation.Start();
}
