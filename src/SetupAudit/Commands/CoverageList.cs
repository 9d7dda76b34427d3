using System.Runtime.CompilerServices;
using SetupAudit.Shapes;
using SetupAudit.Shop;
using SetupAudit.Store;

namespace SetupAudit.Commands;

/// <summary>One row a watched folder: what it can and cannot prove, and when it last said something.</summary>
internal sealed class CoverageList(ListRequest request, StoreReader? store)
{
    public async IAsyncEnumerable<ListRow> RowsAsync([EnumeratorCancellation] CancellationToken token)
    {
        foreach (var machine in request.Shop.Machines)
        {
            if (request.Machine is not null && machine.Name != request.Machine) continue;
            foreach (var row in await OfAsync(request.Shop, machine, store, token))
                yield return new ListRow(ShapeBody.Of(row), null);
        }
    }

    /// <summary>The coverage of one machine.</summary>
    public static async Task<IReadOnlyList<CoverageView>> OfAsync(
        ShopConfig shop, MachineConfig machine, StoreReader? store, CancellationToken token)
    {
        var rows = new List<CoverageView>();
        foreach (var watch in machine.Watch)
            rows.Add(Coverage.Of(shop, machine, watch, store is null
                ? null
                : await store.LastMomentAsync(machine.Name, watch.Index, watch.Folder, token)));
        return rows;
    }
}
