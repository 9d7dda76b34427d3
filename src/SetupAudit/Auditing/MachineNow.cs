using SetupAudit.Findings;
using SetupAudit.Folding;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Auditing;

/// <summary>
/// A machine's fold as far as its recorded evidence goes, read beside a service and without touching the record: for
/// those who ask how things stand.
/// </summary>
public sealed record MachineNow(Derivation Derivation, MachineState State, IReadOnlyList<UnreadSource> Unread)
{
    /// <summary>Folds from the latest kept state on; all that is recorded of the machine is in it.</summary>
    public static async Task<MachineNow> ReadAsync(
        ShopConfig shop, MachineConfig machine, StoreReader record, CancellationToken token)
    {
        var history = await MachineHistory.OpenAsync(shop, machine, record, token);
        return new MachineNow(history.Derivation, await history.StateAtAsync(null, token), history.Unread);
    }
}
