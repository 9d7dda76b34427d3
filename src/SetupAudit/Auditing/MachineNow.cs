using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// A machine's fold as far as its recorded evidence goes, read beside a service and without touching the record: for
/// those who ask how things stand.
/// </summary>
public sealed record MachineNow(Derivation Derivation, MachineState State)
{
    /// <summary>Folds from the latest kept state on; all that is recorded of the machine is in it.</summary>
    public static async Task<MachineNow> ReadAsync(
        ShopConfig shop, MachineConfig machine, StoreReader record, CancellationToken token)
    {
        var reader = new ArrivalReader(shop, record);
        var sheets = new SheetShelf();
        await new Shelves(sheets).LoadAsync(SheetFindings.Sheets, record, reader, token);
        var shelves = new Shelves(sheets);
        await shelves.LoadAsync(machine.Name, record, reader, token);
        var derivation = new Derivation(shop, machine, shelves.Programs, shelves.Sheets, shelves.ToLoad);
        var dirty = await record.DirtyAsync(machine.Name, token);
        var place = dirty is null ? null : KeptStates.JustBefore(dirty.From);
        var kept = await record.LatestKeptAsync(machine.Name, place, token);
        var state = kept is null ? derivation.Start() : StateText.FromBytes(kept.State);
        await foreach (var sighting in new TimeLine(machine, record, record, reader).AfterAsync(state.Position, token))
            state = derivation.Fold(state, sighting);
        return new MachineNow(derivation, state);
    }
}
